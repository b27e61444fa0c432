// The list of everything that rushlight's numbers are held to. One list, two users: validation_test.cpp fails when a
// row fails, and tools/validate.cpp writes the rows down for people to read.
#pragma once

#include "quantity/measured.h"

#include <functional>
#include <stdexcept>
#include <string>
#include <vector>

namespace rushlight::validation {

struct Case {
    std::string id, section, what, source;
    double expected = 0;
    std::string unit;
    double tolerance_relative = 0;
    std::function<Measured()> measure;  // an error of zero: no chance is in it
    double tolerance_absolute = 0;      // where the expected value may be zero

    double tolerance() const { return tolerance_relative * std::abs(expected) + tolerance_absolute; }
};

/// Thrown by measure() when an outside table that the row needs is not on this machine.
struct NotInstalled : std::runtime_error {
    using std::runtime_error::runtime_error;
};

/// Three standard errors within the tolerance: else a pass proves nothing.
inline bool sure_enough(const Case& c, const Measured& got) {
    return 3 * got.error <= c.tolerance();
}
/// Within four standard errors or within the tolerance, whichever is more.
inline bool agrees(const Case& c, const Measured& got) {
    return std::abs(got.value - c.expected) <= std::max(4 * got.error, c.tolerance());
}

using Cases = std::vector<Case>;
Cases direct_light_cases();
Cases view_factor_cases();
Cases sphere_and_furnace_cases();
Cases radiosity_cases();
Cases shaping_cases();
Cases mirror_and_reveal_cases();
Cases random_room_cases();
Cases kit_cases();
Cases luminaire_cases();
Cases glass_cases();
Cases standard_room_cases();
Cases sky_cases();
Cases sun_cases();
Cases exposure_cases();
Cases colour_cases();

std::vector<Case> all_cases();

}  // namespace rushlight::validation
