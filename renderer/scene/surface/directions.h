// Directions drawn at random, in a frame whose z is the middle of what is drawn; u, v in 0..1.
#pragma once

#include "quantity/space.h"
#include "quantity/units.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

/// `across` from the axis at the turn `phi` (radians), `z` along it.
inline Vec3 around_axis(float across, float phi, float z) {
    return {across * std::cos(phi), across * std::sin(phi), z};
}

/// The unit vector of cosine `z` to the axis: even over the sphere where z is even over -1..1.
inline Vec3 sphere_direction(float z, float v) {
    return around_axis(std::sqrt(std::max(0.0F, 1.0F - z * z)), 2.0F * pi_f * v, z);
}

/// Above the plane, denser by the cosine: cosine / pi per steradian.
inline Vec3 cosine_direction(float u, float v) {
    return around_axis(std::sqrt(u), 2.0F * pi_f * v, std::sqrt(std::max(1e-12F, 1.0F - u)));
}

/// Even within a cone; `height` is 1 - cosine of its half angle, which narrow cones need told as such.
inline Vec3 cone_direction(double height, float u, float v) {
    const double down = u * height;
    const auto c = static_cast<float>(1.0 - down);
    const auto s = static_cast<float>(std::sqrt(std::max(0.0, down * (2.0 - down))));
    return around_axis(s, 2.0F * pi_f * v, c);
}

}  // namespace rushlight
