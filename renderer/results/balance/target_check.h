// Checks a set-up as it stands against the targets written down for it. Nothing is solved and nothing changes.
#pragma once

#include "paths/work/effort.h"
#include "results/light/kept_light.h"
#include "results/sheet/sheet.h"
#include "scene/scene.h"
#include "setup/plain/setup.h"

#include <string>
#include <vector>

namespace rushlight {

struct TargetCheck {
    std::string name, want;
    std::string said;     // what is there, for people: "T3.4", "3.1:1", "no light"
    bool colour = false;  // numbers in mired, else in stops
    Measured value;       // where log2 of nothing is asked for: not finite
    double wanted = 0, within = 0;
    double off = 0;            // beyond what is wanted, 0 on the side that is as good
    bool reached = false;      // within, or no more than two errors outside
    bool cannot_tell = false;  // the error is too large to tell
};

/// `others`: the sheets of set-ups that a target wants matched. A target that needs one of them and has it not is left
/// out. Throws InputError for a target whose reading is not there.
std::vector<TargetCheck> check_targets(const Setup& setup, const Scene& scene, const std::vector<Sheet>& others,
                                       const Effort& effort, KeptLight& light);

}  // namespace rushlight
