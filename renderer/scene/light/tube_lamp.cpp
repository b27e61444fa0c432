#include "scene/light/lamps.h"

#include "quantity/units.h"
#include "scene/light/way.h"
#include "scene/surface/choices.h"
#include "scene/surface/directions.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

TubeLamp::TubeLamp(const Lamp& lamp) {
    const Rectangle whole = facing_rectangle(lamp.at, lamp.aim, lamp.roll, lamp.width, lamp.height);
    // The prism keeps the tube's girth pi D, so that flux and luminance keep theirs.
    const float side = pi_f * static_cast<float>(lamp.height) / sides;
    const float inner = side / (2.0F * std::tan(pi_f / sides));
    for (int i = 0; i < sides; ++i) {
        const float a = 2.0F * pi_f * static_cast<float>(i) / sides;
        Rectangle& r = side_[static_cast<std::size_t>(i)];
        r.normal = whole.normal * std::cos(a) + whole.up * std::sin(a);
        r.across = whole.across;
        r.up = r.normal.cross(r.across);
        r.centre = whole.centre + r.normal * inner;
        r.half_width = whole.half_width;
        r.half_height = side / 2;
    }
    area_ = side_[0].area() * sides;
    const Spectrum given = lamp.given();
    // Lambert side: flux = pi L A; candela square to the axis = L * length * diameter = L A / pi.
    radiance_ = lamp.output == Lamp::Output::lumen ? given * (1.0F / (pi_f * area_)) : given * (pi_f / area_);
    flux_ = photometric(radiance_) * pi * area_;
}

std::array<float, TubeLamp::sides> TubeLamp::facing(const Vec3& from) const {
    std::array<float, sides> share{};
    float sum = 0;
    for (std::size_t i = 0; i < sides; ++i) {
        const Vec3 d = from - side_[i].centre;
        share[i] = std::max(0.0F, side_[i].normal.dot(d));
        sum += share[i];
    }
    if (sum > 0)
        for (float& s : share) s /= sum;
    return share;
}

std::optional<Incoming> TubeLamp::incoming(const Vec3& from, float u, float v) const {
    const auto share = facing(from);
    const auto picked = pick(sides, u, [&](std::size_t i) { return share[i]; });
    if (!picked) return std::nullopt;
    const Rectangle& r = side_[picked->which];
    const Vec3 p = r.at(v, picked->rest);
    const Way w = way_to(from, p);
    const float cosine = -r.normal.dot(w.toward);
    if (cosine <= 1e-6F) return std::nullopt;
    return Incoming{w.toward, w.distance, radiance_, picked->weight * w.distance * w.distance / (r.area() * cosine),
                    static_cast<std::uint32_t>(2 * picked->which)};
}

float TubeLamp::incoming_pdf(const Vec3& from, const Hit& hit, const Vec3& toward) const {
    const std::size_t i = hit.primitive / 2;
    const Rectangle& r = side_[i];
    const float cosine = -r.normal.dot(toward);
    return cosine > 1e-6F ? facing(from)[i] * hit.distance * hit.distance / (r.area() * cosine) : 0.0F;
}

Spectrum TubeLamp::radiance(const Hit& hit, const Vec3& outward) const {
    return side_[hit.primitive / 2].normal.dot(outward) > 0 ? radiance_ : Spectrum{};
}

EmittedRay TubeLamp::emitted(const std::array<float, 5>& u) const {
    const auto side = static_cast<std::uint32_t>(std::min(u[0] * sides, sides - 0.5F));
    const Rectangle& r = side_[side];
    EmittedRay ray;
    ray.primitive = 2 * side;
    ray.pdf = 1.0F / (pi_f * area_);
    const float across = u[0] * sides - std::floor(u[0] * sides);
    ray.origin = r.at(u[1], across);
    ray.direction = Frame(r.normal).to_place(cosine_direction(u[2], u[3]));
    ray.throughput = radiance_ * (pi_f * area_);
    return ray;
}

float TubeLamp::emission_pdf(const Hit& hit, const Vec3& outward) const {
    return side_[hit.primitive / 2].normal.dot(outward) > 0 ? 1.0F / (pi_f * area_) : 0.0F;
}

float TubeLamp::expected_lux(const Vec3& from) const {
    const Rectangle& r = side_[0];
    const Vec3 axis = r.across;
    const Vec3 middle = r.centre - r.normal * (r.half_height / std::tan(pi_f / sides));
    const Vec3 d = from - middle;
    const float along = std::clamp(d.dot(axis), -r.half_width, r.half_width);
    const float near2 = std::max((d - axis * along).length2(), r.half_height * r.half_height);
    const float intensity = photometric(radiance_) * area_ / pi_f;
    // Between the line's 1/d and the point's 1/d^2.
    return intensity / (near2 + std::sqrt(near2) * r.half_width);
}

Mesh TubeLamp::glow() const {
    Mesh m;
    for (const Rectangle& r : side_) add_quad(m, r.at(0, 0), r.at(1, 0), r.at(1, 1), r.at(0, 1));
    return m;
}

}  // namespace rushlight
