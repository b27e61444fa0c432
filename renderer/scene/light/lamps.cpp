#include "scene/light/lamps.h"

#include "quantity/units.h"
#include "scene/surface/directions.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

/// Distance and direction to a point, and the pdf of an even choice over `area` seen under `cosine`.
struct Way {
    Vec3 toward{0, 0, 1};
    float distance;
};
Way way_to(const Vec3& from, const Vec3& to) {
    const Vec3 d = to - from;
    const float distance = d.length();
    return {distance > 0 ? d / distance : Vec3(0, 0, 1), distance};
}

}  // namespace

// --- hard -----------------------------------------------------------------------------------------------

HardLamp::HardLamp(const Lamp& lamp)
    : at_(lamp.at), aim_(lamp.aim.normalized()), radius_(static_cast<float>(std::max(lamp.width, 1e-3) / 2)) {
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

Vec3 HardLamp::corner(int i) const {
    const Frame f(aim_);
    const float a = 2.0F * pi_f * static_cast<float>(i) / corners;
    return at_ + (f.x * std::cos(a) + f.y * std::sin(a)) * radius_;
}

/// Of the polygon: one of its triangles, then even in that.
Vec3 HardLamp::even_point(float u, float v) const {
    const float scaled = u * corners;
    const int wedge = std::min(static_cast<int>(scaled), corners - 1);
    const float r = std::sqrt(scaled - static_cast<float>(wedge));
    return at_ + (corner(wedge) - at_) * (r * (1.0F - v)) + (corner(wedge + 1) - at_) * (r * v);
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
    const float s = std::sqrt(std::max(0.0F, 1.0F - c * c));
    const float phi = 2.0F * pi_f * u[3];
    ray.direction = Frame(aim_).to_place({s * std::cos(phi), s * std::sin(phi), c});
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
    for (int i = 0; i < corners; ++i) m.positions.push_back(corner(i));
    for (std::uint32_t i = 0; i < corners; ++i) m.triangles.push_back({0, 1 + i, 1 + (i + 1) % corners});
    return m;
}

// --- box ------------------------------------------------------------------------------------------------

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

// --- ball -----------------------------------------------------------------------------------------------

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
    const float c = 1.0F - 2.0F * u[0];
    const float s = std::sqrt(std::max(0.0F, 1.0F - c * c));
    const float phi = 2.0F * pi_f * u[1];
    const Vec3 normal(s * std::cos(phi), s * std::sin(phi), c);
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

// --- tube -----------------------------------------------------------------------------------------------

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
    std::size_t i = 0;
    float left = u;
    while (i + 1 < sides && left >= share[i]) left -= share[i++];
    if (share[i] <= 0) return std::nullopt;
    const Rectangle& r = side_[i];
    const Vec3 p = r.at(v, std::clamp(left / share[i], 0.0F, 1.0F));
    const Way w = way_to(from, p);
    const float cosine = -r.normal.dot(w.toward);
    if (cosine <= 1e-6F) return std::nullopt;
    return Incoming{w.toward, w.distance, radiance_, share[i] * w.distance * w.distance / (r.area() * cosine),
                    static_cast<std::uint32_t>(2 * i)};
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
