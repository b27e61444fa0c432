#include "scene/light/lamps.h"

#include "quantity/units.h"
#include "scene/light/way.h"
#include "scene/surface/directions.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

HardLamp::HardLamp(const Lamp& lamp)
    : at_(lamp.at), aim_(lamp.aim.normalized()), radius_(static_cast<float>(std::max(lamp.width, 1e-3) / 2)) {
    const Frame frame(aim_);
    for (std::size_t i = 0; i < corner_.size(); ++i) {
        const float a = 2.0F * pi_f * static_cast<float>(i) / corners;
        corner_[i] = at_ + (frame.x * std::cos(a) + frame.y * std::sin(a)) * radius_;
    }
    area_ = 0.5F * corners * radius_ * radius_ * std::sin(2.0F * pi_f / corners);
    half_beam_ = static_cast<float>(radians(Degree{lamp.beam}) / 2);
    const double widening = std::max(1.02, lamp.field / lamp.beam);
    power_ = static_cast<float>(std::log(std::log(10.0) / std::log(2.0)) / std::log(widening));
    // Dark where under a ten-thousandth is left, and never behind the disc.
    darkest_ = static_cast<float>(std::min(pi / 2, half_beam_ * std::pow(std::log(1e4) / std::log(2.0), 1.0 / power_)));
    // Flux within each angle, by fine Simpson steps: 2 pi integral of profile sin.
    double sum = 0;
    below_[0] = 0;
    for (int i = 0; i < steps; ++i) {
        const double a = darkest_ * i / steps;
        const double b = darkest_ * (i + 1) / steps;
        const auto f = [&](double x) { return profile(static_cast<float>(x)) * std::sin(x); };
        sum += (b - a) / 6 * (f(a) + 4 * f((a + b) / 2) + f(b));
        below_[static_cast<std::size_t>(i) + 1] = static_cast<float>(sum);
    }
    const double flux_per_candela = 2 * pi * sum;
    for (float& s : below_) s /= static_cast<float>(sum);
    const Spectrum given = lamp.given();
    peak_ = lamp.output == Lamp::Output::candela ? given : given * static_cast<float>(1.0 / flux_per_candela);
    peak_candela_ = photometric(peak_);
    flux_ = peak_candela_ * flux_per_candela;
}

float HardLamp::profile(float angle) const {
    if (angle >= darkest_) return 0;
    return std::exp2(-std::pow(angle / half_beam_, power_));
}

float HardLamp::direction_density(float cosine) const {
    const float angle = std::acos(std::clamp(cosine, -1.0F, 1.0F));
    const auto step = static_cast<int>(angle / darkest_ * steps);
    if (step < 0 || step >= steps) return 0;
    const auto i = static_cast<std::size_t>(step);
    const float share = below_[i + 1] - below_[i];
    // Even over the solid angle of its ring.
    const float from = std::cos(darkest_ * static_cast<float>(step) / steps);
    const float to = std::cos(darkest_ * static_cast<float>(step + 1) / steps);
    return share / (2.0F * pi_f * (from - to));
}

/// A point even over the polygon: first one of its triangles, then even in that.
Vec3 HardLamp::even_point(float u, float v) const {
    const float scaled = u * corners;
    const std::size_t wedge = std::min<std::size_t>(static_cast<std::size_t>(scaled), corners - 1);
    const float r = std::sqrt(scaled - static_cast<float>(wedge));
    return at_ + (corner_[wedge] - at_) * (r * (1.0F - v)) + (corner_[wedge + 1] - at_) * (r * v);
}

std::optional<Incoming> HardLamp::incoming(const Vec3& from, float u, float v) const {
    const Way w = way_to(from, even_point(u, v));
    const float cosine = -aim_.dot(w.toward);
    if (cosine <= 1e-4F) return std::nullopt;
    const float shape = profile(std::acos(std::min(1.0F, cosine)));
    if (shape <= 0) return std::nullopt;
    return Incoming{w.toward, w.distance, peak_ * (shape / (area_ * cosine)),
                    w.distance * w.distance / (area_ * cosine), 0};
}

float HardLamp::incoming_pdf(const Vec3&, const Hit& hit, const Vec3& toward) const {
    const float cosine = -aim_.dot(toward);
    return cosine > 1e-4F ? hit.distance * hit.distance / (area_ * cosine) : 0.0F;
}

Spectrum HardLamp::radiance(const Hit&, const Vec3& outward) const {
    const float cosine = aim_.dot(outward);
    if (cosine <= 1e-4F) return Spectrum{};
    return peak_ * (profile(std::acos(std::min(1.0F, cosine))) / (area_ * cosine));
}

EmittedRay HardLamp::emitted(const std::array<float, 5>& u) const {
    EmittedRay ray;
    ray.origin = even_point(u[0], u[1]);
    const auto above = std::upper_bound(below_.begin(), below_.end(), u[2]);
    const auto i = static_cast<std::size_t>(std::clamp<std::ptrdiff_t>(above - below_.begin() - 1, 0, steps - 1));
    const float width = below_[i + 1] - below_[i];
    const float t = width > 0 ? (u[2] - below_[i]) / width : 0.5F;
    const float c0 = std::cos(darkest_ * static_cast<float>(i) / steps);
    const float c1 = std::cos(darkest_ * static_cast<float>(i + 1) / steps);
    const float c = std::clamp(c0 + t * (c1 - c0), 1e-4F, 1.0F);
    ray.direction = Frame(aim_).to_place(sphere_direction(c, u[3]));
    const float pdf = direction_density(c);
    ray.throughput = pdf > 0 ? peak_ * (profile(std::acos(c)) / pdf) : Spectrum{};
    ray.pdf = pdf / (area_ * c);
    return ray;
}

float HardLamp::emission_pdf(const Hit&, const Vec3& outward) const {
    const float cosine = aim_.dot(outward);
    return cosine > 1e-4F ? direction_density(cosine) / (area_ * cosine) : 0.0F;
}

float HardLamp::expected_lux(const Vec3& from) const {
    const Way w = way_to(from, at_);
    const float cosine = -aim_.dot(w.toward);
    if (cosine <= 0) return 0;
    return peak_candela_ * profile(std::acos(std::min(1.0F, cosine))) / std::max(w.distance * w.distance, area_);
}

Mesh HardLamp::glow() const {
    Mesh m;
    m.positions.push_back(at_);
    for (std::size_t i = 0; i < corners; ++i) m.positions.push_back(corner_[i]);
    for (std::uint32_t i = 0; i < corners; ++i) m.triangles.push_back({0, 1 + i, 1 + (i + 1) % corners});
    return m;
}

}  // namespace rushlight
