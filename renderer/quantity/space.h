// Positions and directions in the place's frame: metres; x to the right along the near wall, y straight
// into the room, z up. Right-handed.
#pragma once

#include <ImathVec.h>

#include <cmath>

namespace rushlight {

using Vec3 = Imath::V3f;

/// Two unit vectors that complete `n` to a right-handed frame: Duff et al., JCGT 6(1), 2017.
struct Frame {
    Vec3 x, y, n;

    explicit Frame(const Vec3& normal) : n(normal) {
        const float sign = std::copysign(1.0F, n.z);
        const float a = -1.0F / (sign + n.z);
        const float b = n.x * n.y * a;
        x = Vec3(1.0F + sign * n.x * n.x * a, sign * b, -sign * n.x);
        y = Vec3(b, sign + n.y * n.y * a, -n.y);
    }
    Vec3 to_place(const Vec3& v) const { return x * v.x + y * v.y + n * v.z; }
    Vec3 to_frame(const Vec3& v) const { return {x.dot(v), y.dot(v), n.dot(v)}; }
};

}  // namespace rushlight
