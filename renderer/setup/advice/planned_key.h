// Where the set-up's own targets want the key on a face.
#pragma once

#include "setup/plain/setup.h"

#include <string>
#include <vector>

namespace rushlight {

struct PlannedKey {
    std::string mark;
    double lux = 0;   // incident, on the key cheek
    double skin = 0;  // luminous reflectance of that person's skin

    /// Stops of that cheek over grey, as a spot meter reads it: E ρ / π over the luminance of grey (gloss apart).
    double over_grey(double grey) const;
};

/// One for each mark whose "key cheek" a target wants at a stop, at so many lux, or over grey by the camera's exposure.
std::vector<PlannedKey> planned_keys(const Setup& setup);

}  // namespace rushlight
