// Traces what the open pages look at, one after the other on one worker: coarse first, then surer and surer. The newest
// wish wins; what nobody looks at any more is dropped within a blink. What was traced stays in memory by its content,
// so that tabs, undo, levels and gels are answered at once.
#pragma once

#include "desk/document/document.h"
#include "desk/light/events.h"
#include "desk/light/traced.h"
#include "results/light/calibration.h"
#include "setup/edit/edited_text.h"

#include <atomic>
#include <condition_variable>
#include <functional>
#include <list>
#include <map>
#include <memory>
#include <mutex>
#include <string>
#include <thread>
#include <vector>

namespace rushlight::desk {

struct View {
    enum class Kind { none, frame, map, plan } kind = Kind::none;
    int width = 480;
    double height = 1.2;  // m, of a plan
};

struct Wish {
    std::string setup, option;
    View view;
};

/// A picture packed for the page.
struct Picture {
    unsigned long id = 0;
    std::shared_ptr<const std::string> bytes;
};

/// A meter, and where the light is kept that was traced of it.
struct HeldMeter {
    NamedMeter meter;
    MeterLight* light = nullptr;
    std::size_t number = 0;  // in `light`
};

/// One open page and what it is shown.
struct OpenPage {
    Wish wish;
    bool read_only = false;
    std::shared_ptr<Events> events = std::make_shared<Events>();
    std::uint64_t revision = 0;
    Setup as_in_file, asked;            // asked: scaled to the scout's readings
    std::shared_ptr<SceneLight> light;  // null while the wish cannot be met
    std::string view_fingerprint;
    bool placed = false;  // whether the meters are
    std::vector<HeldMeter> meters;
    std::vector<HeldMeter> spots;  // what a spot meter beside the lens is pointed at
    std::vector<OutlineMeters> outlines;
    MeterLight* outline_light = nullptr;  // of the spots of all outlines, one after the other; null until placed
    std::string outlined_by;              // the view that they were found in, or are to be
    bool done = false;                    // nothing is to be traced of the sheet any more
    std::string told_view;                // of the picture that was sent last, and how far it was
    int told_stages = 0;
    Picture picture, picture_before;

    /// True if this light answers the page.
    bool reads(const MeterLight* light) const;
};

class LiveLight {
public:
    explicit LiveLight(const Document& document);
    ~LiveLight();
    LiveLight(const LiveLight&) = delete;
    LiveLight& operator=(const LiveLight&) = delete;

    /// Null when too many pages are open. An unknown set-up or option becomes the first, as found.
    std::shared_ptr<OpenPage> join(Wish wish, bool read_only);
    void leave(const std::shared_ptr<OpenPage>& open_page);
    /// The document changed: every page is answered from what is there, and traced for anew where need be.
    void renew();
    /// Sends an event to all pages: what `data` makes for each.
    void tell(const std::string& kind, const std::function<std::string(const OpenPage&)>& data);
    std::shared_ptr<const std::string> picture(unsigned long id) const;
    /// The set-up with its scene, built now if nobody needed it yet; throws InputError.
    struct Lit {
        Setup asked;
        std::shared_ptr<SceneLight> light;
    };
    Lit lit(const std::string& setup, const std::string& option);
    /// Ends every stream and the worker.
    void end();
    /// Memory that all light which is kept takes, with the rooms it was traced in.
    std::size_t kept_bytes() const;

    /// Of those who may change the file, and of those who look over a shared door: neither takes the other's places.
    static constexpr std::size_t most_lookers = 16, most_shared_lookers = 8;

private:
    struct Job {
        std::shared_ptr<OpenPage> open_page;
        std::shared_ptr<SceneLight> light;
        enum class Kind { scales, scene, meters, outlines, picture } kind = Kind::scene;
        std::string view_fingerprint;
        Setup asked;
        View view;
        MeterLight* meters = nullptr;
        std::uint64_t revision = 0;
    };
    void work();
    bool next_job(Job& job);
    void do_job(const Job& job);
    void find_scales(const Job& job);
    void place_outlines_of(const Job& job);
    void trace_meters(const Job& job);
    void trace_picture(const Job& job);
    bool step(std::unique_lock<std::mutex>& lock);
    void tell_picture(const std::shared_ptr<OpenPage>& open_page, std::unique_lock<std::mutex>& lock);

    void resolve(OpenPage& open_page);
    Setup as_measured(const Setup& setup);
    void place_meters_of(OpenPage& open_page);
    std::vector<HeldMeter> held(SceneLight& light, std::vector<NamedMeter> meters);
    void tell_sheet(OpenPage& open_page);
    std::shared_ptr<SceneLight> light_of(const Setup& asked);
    void build(SceneLight& light);
    void forget_old();
    std::size_t all_bytes() const;
    void forget_meters(SceneLight& light);
    bool in_use(const MeterLight* meters) const;

    const Document& document_;
    mutable std::mutex mutex_;  // of all below
    std::condition_variable news_;
    std::list<std::shared_ptr<SceneLight>> lights_;
    std::vector<std::shared_ptr<OpenPage>> open_pages_;
    std::map<std::string, std::vector<SourceScale>> scales_;  // what the scout's readings make of a place
    Job current_;
    bool busy_ = false, ending_ = false;
    std::atomic<bool> drop_{false};
    unsigned long turn_ = 0, last_picture_ = 0;
    std::mutex building_;  // scenes are built one at a time
    std::thread worker_;
};

}  // namespace rushlight::desk
