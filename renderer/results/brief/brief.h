// All that the crew and the director are told of a file, as plain results: pages, a table and JSON are ways of
// showing it.
#pragma once

#include "paths/work/effort.h"
#include "results/balance/target_check.h"
#include "results/brief/on_arrival.h"
#include "results/compare/match.h"
#include "results/day/continuity.h"
#include "results/day/day_course.h"
#include "results/day/shooting_order.h"
#include "results/frame/light_map.h"
#include "setup/advice/kit_use.h"
#include "setup/read/setup_file.h"

#include <optional>
#include <string>
#include <vector>

namespace rushlight {

/// A small frame, a layer a source: X, Y, Z as they leave the lens, filtered for looking. The light that the preview
/// filter adds is divided among the sources in proportion to their light in each pixel, so that the layers still sum to
/// the picture.
struct BriefFrame {
    int width = 0, height = 0;
    std::vector<std::string> sources;
    std::vector<std::vector<Vec3>> layers;  // [source][pixel], cd/m2
    Camera camera;
    double noise = 0;  // mean relative error of a pixel, before the filter
    bool there() const { return width > 0 && !layers.empty(); }
};

/// One way of lighting a set-up.
struct BriefOption {
    Setup setup;
    Sheet sheet;  // its changes count from the first option
    BriefFrame frame;
    std::vector<std::string> differs;  // from the first option, in words: "key 25 %", "black away"
};

struct BriefSetup {
    std::vector<BriefOption> options;  // the first is the plan, the others are offered beside it
    std::optional<LightMap> map;       // of the first, over what the camera sees
    std::optional<DayCourse> day;      // of the first, where light comes from outside
    std::vector<TargetCheck> targets;
    KitList kit;
    std::vector<std::pair<std::string, std::string>> stands;  // of each lamp and panel by name: "2 grip stands"
    std::string stand_of(const std::string& thing) const;     // "" where the kit does not say
    const Setup& setup() const { return options.front().setup; }
    const Sheet& sheet() const { return options.front().sheet; }
};

/// A thing of the kit over all set-ups.
struct BriefKitLine {
    std::string name;
    bool is_part = false;
    int most = 0;                 // that one set-up takes
    std::optional<int> owned;     // nothing: nobody counted them
    std::vector<std::string> in;  // set-ups that use it
    int free() const { return owned ? *owned - most : 0; }
};

struct Brief {
    std::string title;
    std::vector<BriefSetup> setups;
    DayHours hours;                     // of work
    bool hours_given = false;           // by the file or by whoever asked; else they are ours
    std::vector<Weather> weathers;      // the file's own first
    std::vector<ShootingOrder> orders;  // one a weather; empty for a single set-up
    bool by_the_clock = false;          // true if any hour of the orders depends on daylight or on people
    std::vector<Mismatch> mismatches;   // under the first weather, at the hours of its order
    std::vector<Match> matches;
    std::vector<BriefKitLine> kit;  // used and free
    bool kit_owned = false;
    std::vector<ToMeasure> to_measure;
    std::vector<std::string> remarks;   // about the file, and of the tracing
    std::vector<std::string> cautions;  // about this rig and place
    double seconds = 0;
};

struct BriefWish {
    std::string setup;    // only this one; empty: all
    std::string option;   // the planned option; empty: as found. Set-ups that have no such option stay as found
    double seconds = 15;  // to trace, a set-up
    int width = 640;      // pixels across of a frame; less where memory asks for it
    DayHours hours{7, 19, 0.5};
    bool hours_given = false;
};

/// The set-ups and options that the wish asks for, the planned option first. Throws InputError for an unknown name,
/// and for a target whose reading no set-up has.
struct BriefPlan {
    std::vector<std::vector<Setup>> setups;
    int width = 0;
    double seconds = 0;                // predicted
    std::vector<std::string> remarks;  // targets that a set-up has not, and that are left out there
    std::size_t options() const;
};
BriefPlan plan_brief(const SetupFile& file, const BriefWish& wish);

/// Traces it. `effort` gives seed, threads and the ways to stop and to tell; what is told is the share of the whole.
Brief make_brief(const SetupFile& file, const BriefPlan& plan, const BriefWish& wish, const Effort& effort,
                 const LayerCache& cache);

/// The kit over all set-ups, including what is owned and not used.
std::vector<BriefKitLine> kit_over_all(const std::vector<BriefSetup>& setups, const Kit& kit);
/// Electricity, weight overhead, heat, glass, the sun in a lens, minors: what this rig and place call for.
std::vector<std::string> brief_cautions(const Brief& brief);

}  // namespace rushlight
