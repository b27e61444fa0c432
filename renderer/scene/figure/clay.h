// Clay to model a figure with: signed distances (negative inside, millimetres) of simple bodies, and ways to
// blend them. The blends are smooth, so that the light runs over the joints without a seam. Millions of points are
// measured for one figure: what lies too far away to matter is left before the costly steps.
#pragma once

#include "quantity/space.h"

#include <algorithm>
#include <cmath>

namespace rushlight::clay {

/// Two bodies run into each other over about `k` millimetres (cubic, so that curvature stays even too).
inline float joined(float a, float b, float k) {
    const float h = std::max(k - std::abs(a - b), 0.0F) / k;
    return std::min(a, b) - h * h * h * k / 6;
}
/// The volume that two bodies share, with a rounded edge.
inline float common(float a, float b, float k) {
    return -joined(-a, -b, k);
}
/// The first without the second, with a rounded edge.
inline float carved(float a, float b, float k) {
    return -joined(-a, b, k);
}

inline float ball(const Vec3& p, const Vec3& centre, float radius) {
    return (p - centre).length() - radius;
}

/// Ellipsoid with half-axes `r`, to first order at its surface; or `enough`, if it is known to be at least that.
inline float ellipsoid(const Vec3& p, const Vec3& centre, const Vec3& r, float enough = 1e9F) {
    const Vec3 inverse(1 / r.x, 1 / r.y, 1 / r.z);
    const float least = std::min({r.x, r.y, r.z});
    const Vec3 q = (p - centre) * inverse;
    // The distance is never below (k0 - 1) times the least half-axis.
    const float k0_squared = q.length2(), farthest = 1 + enough / least;
    if (farthest < 0 || k0_squared > farthest * farthest) return enough;
    const float k1 = (q * inverse).length();
    return k1 > 0 ? (k0_squared - std::sqrt(k0_squared)) / k1 : -least;
}

/// A limb: a line from `a` to `b` whose thickness goes from `ra` to `rb`; or `enough`, if it is at least that.
inline float limb(const Vec3& p, const Vec3& a, const Vec3& b, float ra, float rb, float enough = 1e9F) {
    const Vec3 along = b - a, from = p - a;
    const float h = std::clamp(from.dot(along) * (1 / along.length2()), 0.0F, 1.0F);
    const float d2 = (from - along * h).length2(), thick = ra + (rb - ra) * h, farthest = thick + enough;
    if (farthest < 0 || d2 > farthest * farthest) return enough;
    return std::sqrt(d2) - thick;
}

/// Clay put on: `joined` with the body of that name.
inline float with_ellipsoid(float d, const Vec3& p, const Vec3& centre, const Vec3& r, float k) {
    return joined(d, ellipsoid(p, centre, r, d + k), k);
}
inline float with_limb(float d, const Vec3& p, const Vec3& a, const Vec3& b, float ra, float rb, float k) {
    return joined(d, limb(p, a, b, ra, rb, d + k), k);
}
inline float with_ball(float d, const Vec3& p, const Vec3& centre, float radius, float k) {
    const float farthest = d + k + radius;
    return farthest < 0 || (p - centre).length2() > farthest * farthest ? d : joined(d, ball(p, centre, radius), k);
}
/// Clay taken off.
inline float without_ellipsoid(float d, const Vec3& p, const Vec3& centre, const Vec3& r, float k) {
    return carved(d, ellipsoid(p, centre, r, k - d), k);
}

/// Bell of height one: 1 in the middle, 0 from three widths on.
inline float bell(float widths_squared) {
    return widths_squared < 9 ? std::exp(-widths_squared) : 0.0F;
}
/// A thumb pressed on the clay at `centre`, as wide as `r` each way.
inline float dab(const Vec3& p, const Vec3& centre, const Vec3& r) {
    return bell(((p - centre) * Vec3(1 / r.x, 1 / r.y, 1 / r.z)).length2());
}
/// The same along a line, `r` to each side.
inline float stroke(const Vec3& p, const Vec3& a, const Vec3& b, float r) {
    const Vec3 along = b - a, from = p - a;
    const float h = std::clamp(from.dot(along) * (1 / along.length2()), 0.0F, 1.0F);
    return bell((from - along * h).length2() * (1 / (r * r)));
}

inline float ramp(float from, float to, float x) {
    const float t = std::clamp((x - from) / (to - from), 0.0F, 1.0F);
    return t * t * (3 - 2 * t);
}

}  // namespace rushlight::clay
