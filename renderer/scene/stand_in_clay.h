// Clay to model a figure with: signed distances (negative inside, millimetres) of simple bodies, and ways to
// blend them. The blends are smooth, so that the light runs over the joints without a seam.
#pragma once

#include "quantity/space.h"

#include <algorithm>
#include <cmath>

namespace rushlight::clay {

/// Ellipsoid with half-axes `r`, to first order at its surface.
inline float ellipsoid(const Vec3& p, const Vec3& centre, const Vec3& r) {
    const Vec3 q = (p - centre) / r;
    const float k0 = q.length(), k1 = (q / r).length();
    return k1 > 0 ? k0 * (k0 - 1) / k1 : -std::min({r.x, r.y, r.z});
}

inline float ball(const Vec3& p, const Vec3& centre, float radius) {
    return (p - centre).length() - radius;
}

/// A limb: a line from `a` to `b` whose thickness goes from `ra` to `rb`.
inline float limb(const Vec3& p, const Vec3& a, const Vec3& b, float ra, float rb) {
    const Vec3 along = b - a;
    const float h = std::clamp((p - a).dot(along) / along.length2(), 0.0F, 1.0F);
    return (p - a - along * h).length() - (ra + (rb - ra) * h);
}

/// Two bodies run into each other over about `k` millimetres (cubic, so that curvature stays even too).
inline float joined(float a, float b, float k) {
    const float h = std::max(k - std::abs(a - b), 0.0F) / k;
    return std::min(a, b) - h * h * h * k / 6;
}
/// What two bodies have in common, with a rounded edge.
inline float common(float a, float b, float k) {
    return -joined(-a, -b, k);
}
/// The first without the second, with a rounded edge.
inline float carved(float a, float b, float k) {
    return -joined(-a, b, k);
}

/// A thumb pressed on the clay at `centre`, as wide as `r` each way: 1 in the middle, 0 far away.
inline float dab(const Vec3& p, const Vec3& centre, const Vec3& r) {
    const float d2 = ((p - centre) / r).length2();
    return d2 < 16 ? std::exp(-d2) : 0.0F;
}
/// The same along a line, `r` to each side.
inline float stroke(const Vec3& p, const Vec3& a, const Vec3& b, float r) {
    const float d = limb(p, a, b, 0, 0) / r;
    return d < 4 ? std::exp(-d * d) : 0.0F;
}

inline float ramp(float from, float to, float x) {
    const float t = std::clamp((x - from) / (to - from), 0.0F, 1.0F);
    return t * t * (3 - 2 * t);
}

}  // namespace rushlight::clay
