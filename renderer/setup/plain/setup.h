// One set-up, complete: the place, the day, the rig and the camera that looks at it, after the overrides of
// the set-up and of the chosen option.
#pragma once

#include "setup/plain/place.h"
#include "setup/plain/rig.h"
#include "setup/plain/target.h"

#include <string>

namespace rushlight {

struct Setup {
    std::string title;   // of the file
    std::string name;    // of the set-up
    std::string option;  // "as found" when none is chosen
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

    /// What looks; null when the file has no camera.
    const Camera* its_camera() const {
        return camera >= 0 ? &rig.cameras.at(static_cast<std::size_t>(camera)) : nullptr;
    }
    /// Of its camera, or the usual one.
    Exposure exposure() const { return camera >= 0 ? its_camera()->exposure : Exposure{}; }
};

}  // namespace rushlight
