#include "scene/light/lamps.h"

#include "quantity/units.h"
#include "scene/light/way.h"
#include "scene/surface/directions.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

BallLamp::BallLamp(const Lamp& lamp) : centre_(lamp.at), radius_(static_cast<float>(std::max(lamp.width, 2e-3) / 2)) {
    const Spectrum given = lamp.given();
    // Flux = 4 pi^2 R^2 L, intensity = pi R^2 L.
    const float disc = pi_f * radius_ * radius_;
    radiance_ = lamp.output == Lamp::Output::lumen ? given * (1.0F / (4.0F * pi_f * disc)) : given * (1.0F / disc);
    flux_ = photometric(radiance_) * 4.0 * pi * disc;
}

/// 1 - cos of the cone that it fills from so far away, without cancelling for far small balls.
double BallLamp::cone_height(double distance) const {
    const double sine = radius_ / distance;
    return sine * sine / (1.0 + std::sqrt(1.0 - sine * sine));
}

std::optional<Incoming> BallLamp::incoming(const Vec3& from, float u, float v) const {
    const Way w = way_to(from, centre_);
    if (w.distance <= radius_ * 1.0001F) return std::nullopt;
    const double cone = cone_height(w.distance);
    const double down = u * cone;
    const auto c = static_cast<float>(1.0 - down);
    const auto s = static_cast<float>(std::sqrt(std::max(0.0, down * (2.0 - down))));
    Incoming in;
    in.toward = Frame(w.toward).to_place(cone_direction(cone, u, v)).normalized();
    const float across2 = s * s * w.distance * w.distance;
    in.distance = w.distance * c - std::sqrt(std::max(0.0F, radius_ * radius_ - across2));
    in.radiance = radiance_;
    in.pdf = static_cast<float>(1.0 / (2.0 * pi * cone));
    in.round = true;
    return in;
}

float BallLamp::incoming_pdf(const Vec3& from, const Hit&, const Vec3&) const {
    const double d = (centre_ - from).length();
    if (d <= radius_ * 1.0001F) return 0;
    return static_cast<float>(1.0 / (2.0 * pi * cone_height(d)));
}

Spectrum BallLamp::radiance(const Hit& hit, const Vec3& outward) const {
    return outward.dot(hit.position - centre_) > 0 ? radiance_ : Spectrum{};
}

EmittedRay BallLamp::emitted(const std::array<float, 5>& u) const {
    const Vec3 normal = sphere_direction(1.0F - 2.0F * u[0], u[1]);
    EmittedRay ray;
    ray.origin = centre_ + normal * (radius_ * 1.0001F);
    ray.direction = Frame(normal).to_place(cosine_direction(u[2], u[3]));
    ray.throughput = radiance_ * (4.0F * pi_f * pi_f * radius_ * radius_);
    ray.pdf = 1.0F / (4.0F * pi_f * pi_f * radius_ * radius_);
    return ray;
}

float BallLamp::emission_pdf(const Hit&, const Vec3&) const {
    return 1.0F / (4.0F * pi_f * pi_f * radius_ * radius_);
}

float BallLamp::expected_lux(const Vec3& from) const {
    const float d2 = std::max((centre_ - from).length2(), radius_ * radius_);
    return static_cast<float>(flux_ / (4 * pi)) / d2;
}

}  // namespace rushlight
