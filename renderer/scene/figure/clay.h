// Soft shapes for lines on a head: ramps and bells, and two sides that run into each other without a corner.
#pragma once

#include <algorithm>
#include <cmath>

namespace rushlight::clay {

/// Two signed distances run into each other over about `k` millimetres (cubic, so that curvature stays even too).
inline float joined(float a, float b, float k) {
    const float h = std::max(k - std::abs(a - b), 0.0F) / k;
    return std::min(a, b) - h * h * h * k / 6;
}
/// The volume that two bodies share, with a rounded edge.
inline float common(float a, float b, float k) {
    return -joined(-a, -b, k);
}

/// Bell of height one: 1 in the middle, 0 from three widths on.
inline float bell(float widths_squared) {
    return widths_squared < 9 ? std::exp(-widths_squared) : 0.0F;
}

inline float ramp(float from, float to, float x) {
    const float t = std::clamp((x - from) / (to - from), 0.0F, 1.0F);
    return t * t * (3 - 2 * t);
}

}  // namespace rushlight::clay
