// Light that sharp surfaces throw in ways that no list of mirrors knows: by two mirrors in a row, by one of a crowd, by
// a bent one that is made of many faces. Thousands of short walks from the lights find where it goes; meters that it
// passes close by send a share of their walks against it. What these walks may have missed is told too.
#pragma once

#include "paths/walk/lit_patches.h"

namespace rushlight {

struct ThrownLight {
    struct Ray {
        Vec3 from, direction;
        float length;  // until it is stopped
        float before;  // m that it has come from its light; of the sun: infinity
        float flux;    // lm
    };
    std::vector<Ray> rays;
    /// What one walk more could throw on a meter, somewhere in the place: lx of each layer, one standard error. Nothing
    /// where no surface throws.
    std::vector<float> missed;
};
ThrownLight thrown_light(const Scene& scene, std::uint64_t seed);

/// Against the light that is thrown at a meter, each with about its lux in `share`.
std::vector<AimedCone> cones_against(const ThrownLight& thrown, const MeterPoint& meter);

}  // namespace rushlight
