#include "cases.h"

namespace rushlight::validation {

std::vector<Case> all_cases() {
    Cases all;
    for (Cases (*section)() : {direct_light_cases, view_factor_cases, sphere_and_furnace_cases, radiosity_cases,
                               shaping_cases, mirror_and_reveal_cases, random_room_cases, kit_cases, luminaire_cases,
                               glass_cases, standard_room_cases, sky_cases, sun_cases, exposure_cases, colour_cases}) {
        Cases some = section();
        all.insert(all.end(), some.begin(), some.end());
    }
    return all;
}

}  // namespace rushlight::validation
