// Where a body stands that was made in a frame of its own.
#pragma once

#include "quantity/space.h"

namespace rushlight {

/// Turned, scaled alike in all directions, and moved.
struct Placement {
    Vec3 x{1, 0, 0}, y{0, 1, 0}, z{0, 0, 1};  // the body's own axes, as they lie in the place; unit
    float scale = 1;                          // metres a unit of the body
    Vec3 origin{0, 0, 0};

    Vec3 turned(const Vec3& v) const { return x * v.x + y * v.y + z * v.z; }
    Vec3 operator()(const Vec3& p) const { return origin + turned(p) * scale; }
    /// A point of the place in the body's own frame.
    Vec3 within(const Vec3& p) const {
        const Vec3 off = (p - origin) / scale;
        return {off.dot(x), off.dot(y), off.dot(z)};
    }
    /// A frame within this one, as it stands in the place.
    Placement operator()(const Placement& inner) const {
        return {turned(inner.x), turned(inner.y), turned(inner.z), scale * inner.scale, (*this)(inner.origin)};
    }
};

}  // namespace rushlight
