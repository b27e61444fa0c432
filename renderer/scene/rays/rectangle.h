// A flat rectangle that light leaves or enters by: windows, soft boxes, panels.
#pragma once

#include "quantity/space.h"

#include <optional>

namespace rushlight {

struct Rectangle {
    Vec3 centre{0, 0, 0};
    Vec3 across{1, 0, 0};  // unit
    Vec3 up{0, 1, 0};      // unit, square to across
    Vec3 normal{0, 0, 1};  // across x up: the side that counts
    float half_width = 0.5F, half_height = 0.5F;

    float area() const { return 4.0F * half_width * half_height; }
    Vec3 at(float u, float v) const {
        return centre + across * ((2.0F * u - 1.0F) * half_width) + up * ((2.0F * v - 1.0F) * half_height);
    }

    struct Seen {
        Vec3 position{0, 0, 0};
        float pdf = 0;  // per steradian, as seen from the point
    };
    /// A point of the rectangle, even over the solid angle that it fills as seen from `from` (Urena, Fajardo,
    /// King 2013), or even over its area where it is so small or so oblique that the two are the same.
    std::optional<Seen> sample_from(const Vec3& from, float u, float v) const;
    /// Pdf of sample_from() in the direction `toward`, zero where the rectangle is missed.
    float density_from(const Vec3& from, const Vec3& toward) const;

    struct Crossing {
        float distance = 0;
        float cosine = 0;  // of the ray with the normal, signed
    };
    /// Where the ray from `from` along unit `toward` goes through it.
    std::optional<Crossing> crossed_by(const Vec3& from, const Vec3& toward) const;
};

/// A rectangle of no size at the origin whose normal is `aim` and whose width lies level.
Rectangle facing_level(const Vec3& aim);
/// A panel or the face of a box: normal along `aim`, width level unless rolled about it.
Rectangle facing_rectangle(const Vec3& centre, const Vec3& aim, double roll_degrees, double width, double height);

}  // namespace rushlight
