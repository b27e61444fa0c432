#include "scene/light/lamps.h"

#include "quantity/units.h"
#include "scene/light/way.h"
#include "scene/surface/directions.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

BoxLamp::BoxLamp(const Lamp& lamp) : face_(facing_rectangle(lamp.at, lamp.aim, lamp.roll, lamp.width, lamp.height)) {
    grid_tangent_ = lamp.grid > 0 ? static_cast<float>(2.0 * std::tan(radians(Degree{lamp.grid}) / 2)) : 0.0F;
    const Spectrum given = lamp.given();
    // Lambert: flux = pi L A without the grid, which only takes away; candela on the aim = L A.
    radiance_ =
        lamp.output == Lamp::Output::lumen ? given * (1.0F / (pi_f * face_.area())) : given * (1.0F / face_.area());
    luminance_ = photometric(radiance_);
    // Flux with the grid: 2 pi integral of L A cos sin * seen.
    double sum = 0;
    constexpr int steps = 512;
    for (int i = 0; i < steps; ++i) {
        const double a = (i + 0.5) / steps * pi / 2;
        sum += std::cos(a) * std::sin(a) * seen_through_grid(static_cast<float>(std::cos(a)));
    }
    flux_ = luminance_ * face_.area() * 2 * pi * sum * (pi / 2 / steps);
}

float BoxLamp::seen_through_grid(float cosine) const {
    if (grid_tangent_ <= 0) return 1;
    const float tangent = std::sqrt(std::max(0.0F, 1.0F - cosine * cosine)) / std::max(cosine, 1e-4F);
    return std::max(0.0F, 1.0F - tangent / grid_tangent_);
}

std::optional<Incoming> BoxLamp::incoming(const Vec3& from, float u, float v) const {
    if (face_.normal.dot(from - face_.centre) <= 0) return std::nullopt;
    const auto seen = face_.sample_from(from, u, v);
    if (!seen) return std::nullopt;
    const Way w = way_to(from, seen->position);
    const float cosine = -face_.normal.dot(w.toward);
    const float open = seen_through_grid(cosine);
    if (cosine <= 0 || open <= 0) return std::nullopt;
    return Incoming{w.toward, w.distance, radiance_ * open, seen->pdf, 0};
}

float BoxLamp::incoming_pdf(const Vec3& from, const Hit&, const Vec3& toward) const {
    return face_.normal.dot(toward) < 0 ? face_.density_from(from, toward) : 0.0F;
}

Spectrum BoxLamp::radiance(const Hit&, const Vec3& outward) const {
    const float cosine = face_.normal.dot(outward);
    return cosine > 0 ? radiance_ * seen_through_grid(cosine) : Spectrum{};
}

EmittedRay BoxLamp::emitted(const std::array<float, 5>& u) const {
    EmittedRay ray;
    ray.origin = face_.at(u[0], u[1]);
    ray.direction = Frame(face_.normal).to_place(cosine_direction(u[2], u[3]));
    ray.throughput = radiance_ * (pi_f * face_.area() * seen_through_grid(face_.normal.dot(ray.direction)));
    ray.pdf = 1.0F / (pi_f * face_.area());
    return ray;
}

float BoxLamp::emission_pdf(const Hit&, const Vec3& outward) const {
    return face_.normal.dot(outward) > 0 ? 1.0F / (pi_f * face_.area()) : 0.0F;
}

float BoxLamp::expected_lux(const Vec3& from) const {
    const Way w = way_to(from, face_.centre);
    const float cosine = -face_.normal.dot(w.toward);
    const float reach = face_.half_width + face_.half_height;
    const float facing = cosine > 0 ? cosine * seen_through_grid(cosine) : 0.0F;
    const float near = w.distance < 2 * reach && face_.normal.dot(from - face_.centre) > 0 ? 0.1F : 0.0F;
    return luminance_ * face_.area() * std::max(facing, near) / (w.distance * w.distance + face_.area() / pi_f);
}

Mesh BoxLamp::glow() const {
    Mesh m;
    add_quad(m, face_.at(0, 0), face_.at(1, 0), face_.at(1, 1), face_.at(0, 1));
    return m;
}

}  // namespace rushlight
