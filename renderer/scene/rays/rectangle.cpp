#include "scene/rays/rectangle.h"

#include "quantity/units.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

/// The rectangle in the frame of the point that looks at it, ready to be drawn from evenly by solid angle. In double:
/// seen at a grazing angle, its cosines differ from one by less than a float can tell.
struct SphericalRectangle {
    double x0, x1, y0, y1, z0;  // z0 < 0: the plane lies ahead along -z
    Vec3 x, y, z;
    double b0, b1, k, solid_angle;

    SphericalRectangle(const Rectangle& r, const Vec3& from) : x(r.across), y(r.up), z(r.normal) {
        const Vec3 corner = r.centre - r.across * r.half_width - r.up * r.half_height - from;
        z0 = z.dot(corner);
        if (z0 > 0) {
            z = -z;
            z0 = -z0;
        }
        x0 = x.dot(corner);
        y0 = y.dot(corner);
        x1 = x0 + 2.0 * r.half_width;
        y1 = y0 + 2.0 * r.half_height;
        // Cosines of the angles between the planes through the edges.
        const auto edge = [](double a, double zz) { return a / std::sqrt(a * a + zz * zz); };
        const double n1z = edge(x1, z0), n3z = -edge(x0, z0);
        b0 = -edge(y0, z0);
        b1 = edge(y1, z0);
        const double g0 = std::acos(std::clamp(-b0 * n1z, -1.0, 1.0));
        const double g1 = std::acos(std::clamp(-n1z * b1, -1.0, 1.0));
        const double g2 = std::acos(std::clamp(-b1 * n3z, -1.0, 1.0));
        const double g3 = std::acos(std::clamp(-n3z * b0, -1.0, 1.0));
        k = 2.0 * pi - g2 - g3;
        solid_angle = g0 + g1 + g2 + g3 - 2.0 * pi;
    }

    Vec3 draw(float u, float v) const {
        const double au = u * solid_angle + k;
        const double sin_au = std::sin(au);
        const double fu = (std::cos(au) * b0 - b1) / (std::abs(sin_au) < 1e-15 ? 1e-15 : sin_au);
        const double cu = std::clamp(std::copysign(1.0, fu) / std::sqrt(fu * fu + b0 * b0), -1.0, 1.0);
        const double xu = std::clamp(-(cu * z0) / std::sqrt(std::max(1e-24, 1.0 - cu * cu)), x0, x1);
        const double d2 = xu * xu + z0 * z0;
        const double h0 = y0 / std::sqrt(d2 + y0 * y0);
        const double h1 = y1 / std::sqrt(d2 + y1 * y1);
        const double hv = h0 + v * (h1 - h0);
        const double hv2 = hv * hv;
        const double yv = hv2 < 1.0 - 1e-12 ? hv * std::sqrt(d2 / (1.0 - hv2)) : y1;
        return x * static_cast<float>(xu) + y * static_cast<float>(std::clamp(yv, y0, y1)) + z * static_cast<float>(z0);
    }
};

/// Below this share of the hemisphere the even-by-area pdf is even by solid angle to within a few per
/// cent, and cheaper; the choice depends only on the two, so pdf and sample always agree.
bool looks_small(const Rectangle& r, const Vec3& from) {
    const Vec3 d = r.centre - from;
    const float longest = std::max(r.half_width, r.half_height);
    return d.length2() > 64.0F * longest * longest;
}

}  // namespace

std::optional<Rectangle::Crossing> Rectangle::crossed_by(const Vec3& from, const Vec3& toward) const {
    const float cosine = normal.dot(toward);
    if (std::abs(cosine) < 1e-7F) return std::nullopt;
    const float distance = normal.dot(centre - from) / cosine;
    if (!(distance > 0)) return std::nullopt;
    const Vec3 p = from + toward * distance - centre;
    if (std::abs(p.dot(across)) > half_width || std::abs(p.dot(up)) > half_height) return std::nullopt;
    return Crossing{distance, cosine};
}

std::optional<Rectangle::Seen> Rectangle::sample_from(const Vec3& from, float u, float v) const {
    if (looks_small(*this, from)) {
        const Vec3 p = at(u, v);
        const Vec3 d = p - from;
        const float distance2 = d.length2();
        const float cosine = std::abs(normal.dot(d)) / std::sqrt(distance2);
        if (cosine < 1e-7F) return std::nullopt;
        return Seen{p, distance2 / (area() * cosine)};
    }
    const SphericalRectangle s(*this, from);
    if (!(s.solid_angle > 1e-7)) return std::nullopt;
    return Seen{from + s.draw(u, v), static_cast<float>(1.0 / s.solid_angle)};
}

float Rectangle::density_from(const Vec3& from, const Vec3& toward) const {
    const auto crossing = crossed_by(from, toward);
    if (!crossing) return 0;
    if (looks_small(*this, from))
        return crossing->distance * crossing->distance / (area() * std::abs(crossing->cosine));
    const SphericalRectangle s(*this, from);
    return s.solid_angle > 1e-7 ? static_cast<float>(1.0 / s.solid_angle) : 0.0F;
}

Rectangle facing_level(const Vec3& aim) {
    Rectangle r;
    r.normal = aim.normalized();
    const Vec3 level = Vec3(0, 0, 1).cross(r.normal);
    r.across = level.length2() > 1e-8F ? level.normalized() : Vec3(1, 0, 0);
    r.up = r.normal.cross(r.across);
    r.half_width = r.half_height = 0;
    return r;
}

Rectangle facing_rectangle(const Vec3& centre, const Vec3& aim, double roll_degrees, double width, double height) {
    Rectangle r = facing_level(aim);
    r.centre = centre;
    const auto roll = static_cast<float>(radians(Degree{roll_degrees}));
    r.across = r.across * std::cos(roll) + r.up * std::sin(roll);
    r.up = r.normal.cross(r.across);
    r.half_width = static_cast<float>(width / 2);
    r.half_height = static_cast<float>(height / 2);
    return r;
}

}  // namespace rushlight
