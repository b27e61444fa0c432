// Which levels, gels, ND and stop reach the targets of a set-up, within what lamps can give; and what cannot be
// reached.
#pragma once

#include "results/balance/missing_lamp.h"
#include "results/light/kept_light.h"
#include "results/sheet/sheet.h"
#include "scene/scene.h"
#include "setup/plain/setup.h"

#include <memory>
#include <string>
#include <vector>

namespace rushlight {

/// One lamp, as found and as it should be set.
struct LampSetting {
    std::string lamp;
    double before = 1, after = 1;  // level, share of full
    std::string gel;               // put on besides those it has; empty: none
    bool changed() const { return before != after || !gel.empty(); }
};

/// A lamp or panel that is moved.
struct MovedThing {
    std::string name;
    Vec3 from, to;
};

/// One target. Numbers are in stops of what is wanted (lux, ratio, difference) or in mired.
struct TargetResult {
    std::string name, want;
    bool colour = false;
    double wanted = 0, within = 0;
    Measured before, after;                 // as found; as set, by a fresh trace
    double reckoned = 0;                    // as set, by the layers
    std::string shown_before, shown_after;  // for people: "T3.4", "3.1:1", "+0.8 stops"
    bool reached = false;                   // the fresh trace lies within, or no more than two of its errors outside
    bool cannot_tell = false;               // its error is too large to tell
    std::string limit;                      // why not: what stops it
};

struct Balance {
    std::string title, setup, option;
    std::vector<LampSetting> lamps;
    std::vector<MovedThing> moves;
    std::vector<double> shares_moved;        // share of the way, one for each [[balance.move]]; empty: nothing moves
    double nd = 0;                           // density put on all windows
    double stop_before = 0, stop_after = 0;  // T of the camera; 0 without one
    std::vector<TargetResult> targets;
    bool all_reached = false, cannot_tell = false;
    std::vector<MissingLamp> missing;     // lamps of the kit for targets that are not reached
    std::shared_ptr<Balance> with_those;  // the same with them put in; null where there are none
    std::vector<std::string> remarks;
    double seconds = 0;
};

/// `others`: the sheet of each set-up that a target wants matched, by its name. Throws InputError for a target whose
/// reading is not there. With a kit, it is asked for the lamps that targets lack.
Balance balance(const Setup& setup, const std::vector<Sheet>& others, const Effort& effort, const LayerCache& cache,
                const Kit* kit = nullptr);

/// The set-up with what `balance` says done to it.
Setup as_set(const Setup& setup, const Balance& balance);

}  // namespace rushlight
