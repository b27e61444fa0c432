// The desk: one set-up file, the light of it, and what a page may ask. Knows nothing of how requests travel.
#pragma once

#include "desk/answer.h"
#include "desk/document/document.h"
#include "desk/light/live_light.h"

#include <atomic>
#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <thread>

namespace rushlight::desk {

class Desk {
public:
    /// Opens the file; throws InputError where it is not sound. Without one, a page may make it: see /api/new.
    explicit Desk(std::optional<std::filesystem::path> file);
    ~Desk();
    Desk(const Desk&) = delete;
    Desk& operator=(const Desk&) = delete;

    /// Everything under /api/ but the events. `read_only`: what would change the file is refused.
    Answer answer(const Request& request, bool read_only);
    /// The stream of one page; null when too many are open, or there is no file yet.
    std::shared_ptr<OpenPage> join(const Request& request, bool read_only);
    void leave(const std::shared_ptr<OpenPage>& open_page);
    void end();
    /// Memory that kept light takes, about; bytes.
    std::size_t kept_bytes() const;

private:
    struct Open {
        explicit Open(const std::filesystem::path& path) : document(path), light(document) {}
        Document document;
        LiveLight light;
    };
    std::shared_ptr<Open> opened() const;
    Answer get(const Request& request, Open& open, bool read_only);
    Answer post(const Request& request, Open& open);
    Answer make_new(const Request& request);
    Answer outcome(const Outcome& outcome, Open& open, const std::string& wrote = {});
    void open(const std::filesystem::path& path);
    void tell_state(Open& open);
    void watch();

    mutable std::mutex mutex_;  // of opened_
    std::shared_ptr<Open> opened_;
    std::mutex making_;  // a first place is made once
    std::atomic<bool> ending_{false};
    std::thread watcher_;  // looks whether the file is changed outside
};

}  // namespace rushlight::desk
