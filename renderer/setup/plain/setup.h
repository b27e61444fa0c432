// One set-up, complete: the place, the day, the rig and the camera that looks at it, after the overrides of
// the set-up and of the chosen option.
#pragma once

#include "setup/plain/place.h"
#include "setup/plain/rig.h"
#include "setup/plain/target.h"

#include <string>

namespace rushlight {

/// The option without an option; and the set-up of a file that names none.
inline constexpr const char* as_found_name = "as found";

struct Setup {
    std::string title;   // of the file
    std::string name;    // of the set-up
    std::string option;  // `as_found_name` when none is chosen
    Place place;
    Day day;
    Day scouted;  // the day as the file has it, before a set-up or option changes it
    Rig rig;
    std::vector<Target> targets;  // of this set-up
    BalanceRules balance;
    int camera = -1;                 // index into rig.cameras; -1 when the file has none
    double minutes = 45;             // that the set-up takes
    std::vector<std::string> needs;  // marks that must be there
    std::vector<std::string> notes;  // of the set-up and of the option, as they were written

    /// The set-up's camera; null when the file has none.
    const Camera* its_camera() const {
        return camera >= 0 ? &rig.cameras.at(static_cast<std::size_t>(camera)) : nullptr;
    }
    /// The exposure of its camera, or the usual one.
    Exposure exposure() const { return camera >= 0 ? its_camera()->exposure : Exposure{}; }
};

}  // namespace rushlight
