#include "scene/light/ring_lamp.h"

#include "quantity/units.h"
#include "scene/surface/directions.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

RingLamp::RingLamp(const Lamp& lamp) : at_(lamp.at), aim_(lamp.aim.normalized()) {
    const Frame f(aim_);
    for (std::size_t i = 0; i < out_.size(); ++i) {
        const float a = 2.0F * pi_f * static_cast<float>(i) / corners;
        out_[i] = f.x * std::cos(a) + f.y * std::sin(a);
    }
    // The polygons have the area of the circles.
    const double swell = std::sqrt(2 * pi / corners / std::sin(2 * pi / corners));
    outer_ = static_cast<float>(lamp.width / 2 * swell);
    inner_ = static_cast<float>(lamp.height / 2 * swell);
    area_ = static_cast<float>(pi / 4 * (lamp.width * lamp.width - lamp.height * lamp.height));
    const Spectrum given = lamp.given();
    // Lambert: flux = pi L A, candela on the aim = L A.
    radiance_ = given * (1.0F / (lamp.output == Lamp::Output::lumen ? pi_f * area_ : area_));
    luminance_ = photometric(radiance_);
    flux_ = luminance_ * pi * area_;
}

Vec3 RingLamp::corner(std::size_t i, float radius) const {
    return at_ + out_[i] * radius;
}

Vec3 RingLamp::even_point(float u, float v) const {
    const float scaled = u * corners;
    const std::size_t wedge = std::min(static_cast<std::size_t>(scaled), corners - 1);
    const float along = scaled - static_cast<float>(wedge);
    const float radius = std::sqrt(inner_ * inner_ + v * (outer_ * outer_ - inner_ * inner_));
    return corner(wedge, radius) * (1.0F - along) + corner((wedge + 1) % corners, radius) * along;
}

std::optional<Incoming> RingLamp::incoming(const Vec3& from, float u, float v) const {
    const Vec3 d = even_point(u, v) - from;
    const float distance = d.length();
    if (!(distance > 0)) return std::nullopt;
    const Vec3 toward = d / distance;
    const float cosine = -aim_.dot(toward);
    if (cosine <= 1e-4F) return std::nullopt;
    return Incoming{toward, distance, radiance_, distance * distance / (area_ * cosine), 0};
}

float RingLamp::incoming_pdf(const Vec3&, const Hit& hit, const Vec3& toward) const {
    const float cosine = -aim_.dot(toward);
    return cosine > 1e-4F ? hit.distance * hit.distance / (area_ * cosine) : 0.0F;
}

Spectrum RingLamp::radiance(const Hit&, const Vec3& outward) const {
    return aim_.dot(outward) > 1e-4F ? radiance_ : Spectrum{};
}

EmittedRay RingLamp::emitted(const std::array<float, 5>& u) const {
    EmittedRay ray;
    ray.origin = even_point(u[0], u[1]);
    ray.direction = Frame(aim_).to_place(cosine_direction(u[2], u[3]));
    ray.throughput = radiance_ * (pi_f * area_);
    ray.pdf = 1.0F / (pi_f * area_);
    return ray;
}

float RingLamp::emission_pdf(const Hit&, const Vec3& outward) const {
    return aim_.dot(outward) > 1e-4F ? 1.0F / (pi_f * area_) : 0.0F;
}

float RingLamp::expected_lux(const Vec3& from) const {
    const Vec3 d = from - at_;
    const float away = std::max(d.length2(), area_);
    const float cosine = aim_.dot(d) / std::sqrt(away);
    // Near its plane a part of it may be seen though its middle is not.
    return luminance_ * area_ * std::max(cosine, d.length2() < 4 * outer_ * outer_ ? 0.05F : 0.0F) / away;
}

Mesh RingLamp::glow() const {
    Mesh m;
    for (std::size_t i = 0; i < corners; ++i)
        add_quad(m, corner(i, inner_), corner(i, outer_), corner((i + 1) % corners, outer_),
                 corner((i + 1) % corners, inner_));
    return m;
}

}  // namespace rushlight
