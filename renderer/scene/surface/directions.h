// Directions drawn at random, in a frame whose z is the middle of what is drawn; u, v in 0..1.
#pragma once

#include "quantity/space.h"
#include "quantity/units.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

/// Above the plane, denser by the cosine: cosine / pi per steradian.
inline Vec3 cosine_direction(float u, float v) {
    const float r = std::sqrt(u);
    const float phi = 2.0F * pi_f * v;
    return {r * std::cos(phi), r * std::sin(phi), std::sqrt(std::max(1e-12F, 1.0F - u))};
}

/// Even within a cone; `height` is 1 - cosine of its half angle, which narrow cones need told as such.
inline Vec3 cone_direction(double height, float u, float v) {
    const double down = u * height;
    const auto c = static_cast<float>(1.0 - down);
    const auto s = static_cast<float>(std::sqrt(std::max(0.0, down * (2.0 - down))));
    const float phi = 2.0F * pi_f * v;
    return {s * std::cos(phi), s * std::sin(phi), c};
}

}  // namespace rushlight
