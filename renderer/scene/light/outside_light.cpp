#include "scene/light/outside_light.h"

#include "quantity/units.h"
#include "scene/surface/choices.h"
#include "scene/surface/directions.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {
constexpr float endless = std::numeric_limits<float>::infinity();

/// Where the ray through this point of an opening starts: a millimetre inside, past the glass, and on its own line,
/// so that what slants in by the very edge is not lost. Rays that all but graze the glass start nearer to it.
Vec3 past_the_glass(const Vec3& crossing, const Vec3& normal, const Vec3& direction) {
    return crossing + direction * std::min(1e-3F / std::max(normal.dot(direction), 1e-6F), 0.1F);
}
}  // namespace

bool Openings::inside(const Vec3& p) const {
    // Points of the walls themselves are inside, whichever way they are rounded: walks that come to one from either end
    // must agree.
    constexpr float slack = 1e-4F;  // m
    for (int i = 0; i < 3; ++i)
        if (p[i] < lower[i] - slack || p[i] > upper[i] + slack) return false;
    return true;
}

float AimedRectangles::weight(const Rectangle& opening, const Vec3& from) {
    const Vec3 d = from - opening.centre;
    const float d2 = d.length2() + opening.area() * 0.3F;
    // About the solid angle, with a floor for openings seen edge-on.
    return opening.area() * (std::abs(opening.normal.dot(d)) / std::sqrt(d2) + 0.05F) / d2;
}

float AimedRectangles::extent(const Vec3& from) const {
    float sum = 0;
    for (const Rectangle& p : rectangles) sum += weight(p, from);
    return sum;
}

std::optional<AimedRectangles::Drawn> AimedRectangles::drawn(const Vec3& from, float u, float v) const {
    const float all = extent(from);
    const auto picked = pick(rectangles.size(), u * all, [&](std::size_t i) { return weight(rectangles[i], from); });
    if (!picked) return std::nullopt;
    const Rectangle& p = rectangles[picked->which];
    const auto seen = p.sample_from(from, picked->rest, v);
    if (!seen) return std::nullopt;
    const Vec3 direction = (seen->position - from).normalized();
    // The way may cross others behind this one.
    float crossed = picked->weight * seen->pdf;
    for (const Rectangle& other : rectangles)
        if (&other != &p) crossed += weight(other, from) * other.density_from(from, direction);
    return Drawn{direction, crossed / all};
}

float AimedRectangles::pdf(const Vec3& from, const Vec3& direction) const {
    float crossed = 0;
    float all = 0;
    for (const Rectangle& p : rectangles) {
        const float w = weight(p, from);
        all += w;
        const float d = p.density_from(from, direction);
        if (d > 0) crossed += w * d;
    }
    return all > 0 ? crossed / all : 0.0F;
}

// --- sky ------------------------------------------------------------------------------------------------

SkyLight::SkyLight(const Daylight& outside, std::shared_ptr<const Openings> openings)
    : daylight_(outside), openings_(std::move(openings)) {
    for (const Rectangle& p : openings_->rectangles) area_ += p.area();
    // Mean of the luminance over the sphere of directions: for choosing between lights, never for light.
    double sum = 0;
    constexpr int rings = 16, spokes = 24;
    for (int i = 0; i < rings; ++i)
        for (int j = 0; j < spokes; ++j) {
            const float z = 1.0F - 2.0F * (static_cast<float>(i) + 0.5F) / rings;
            const float phi = 2.0F * pi_f * (static_cast<float>(j) + 0.5F) / spokes;
            sum += photometric(daylight_.sky_radiance(around_axis(std::sqrt(1.0F - z * z), phi, z)));
        }
    mean_luminance_ = static_cast<float>(sum / (rings * spokes));
    flux_ = pi * mean_luminance_ * area_;
}

bool SkyLight::under_the_sky(const Vec3& from) const {
    return openings_->rectangles.empty() || (openings_->closed && !openings_->inside(from));
}

std::optional<Incoming> SkyLight::incoming(const Vec3& from, float u, float v) const {
    Incoming in;
    in.distance = endless;
    if (under_the_sky(from)) {
        in.toward = sphere_direction(u, v);
        in.pdf = 1.0F / (2.0F * pi_f);
    } else {
        const auto drawn = openings_->drawn(from, u, v);
        if (!drawn) return std::nullopt;
        in.toward = drawn->direction;
        in.pdf = drawn->pdf;
    }
    in.radiance = daylight_.sky_radiance(in.toward);
    return in;
}

float SkyLight::incoming_pdf(const Vec3& from, const Hit&, const Vec3& toward) const {
    if (under_the_sky(from)) return toward.z > 0 ? 1.0F / (2.0F * pi_f) : 0.0F;
    return openings_->pdf(from, toward);
}

Spectrum SkyLight::radiance(const Hit&, const Vec3& outward) const {
    return daylight_.sky_radiance(-outward);
}

EmittedRay SkyLight::emitted(const std::array<float, 5>& u) const {
    // A rectangle by its area, a point even over it, a direction into the room by cosine.
    EmittedRay ray;
    if (area_ <= 0) return ray;
    const auto picked = pick(openings_->rectangles.size(), u[4] * area_,
                             [&](std::size_t i) { return openings_->rectangles[i].area(); });
    if (!picked) return ray;
    const Rectangle& opening = openings_->rectangles[picked->which];
    ray.direction = Frame(opening.normal).to_place(cosine_direction(u[2], u[3]));
    ray.origin = past_the_glass(opening.at(u[0], u[1]), opening.normal, ray.direction);
    ray.throughput = daylight_.sky_radiance(-ray.direction);
    Hit end;
    end.position = ray.origin;
    ray.pdf = emission_pdf(end, ray.direction);
    // radiance * cosine / (pdf of area and direction) = radiance / pdf per etendue.
    ray.throughput *= ray.pdf > 0 ? 1.0F / ray.pdf : 0.0F;
    ray.from_outside = Ray{ray.origin, -ray.direction, endless};
    return ray;
}

float SkyLight::emission_pdf(const Hit& hit, const Vec3& outward) const {
    float pdf = 0;
    for (const Rectangle& p : openings_->rectangles) {
        const auto crossing = p.crossed_by(hit.position, -outward);
        // Cosine-drawn over the rectangle: 1 / (pi A) each, chosen by A; only rays that enter the room.
        if (crossing && crossing->cosine < 0) pdf += 1.0F / (pi_f * area_);
    }
    return pdf;
}

float SkyLight::expected_lux(const Vec3& from) const {
    return mean_luminance_ * (under_the_sky(from) ? pi_f : std::min(openings_->extent(from), pi_f));
}

// --- sun ------------------------------------------------------------------------------------------------

SunLight::SunLight(const Daylight& outside, std::shared_ptr<const Openings> openings)
    : daylight_(outside), openings_(std::move(openings)) {
    cone_density_ = static_cast<float>(1.0 / (2.0 * pi * (1.0 - daylight_.sun_cos_radius)));
    lux_ = photometric(daylight_.sun_irradiance);
    float all = 0;
    for (const Rectangle& p : openings_->rectangles) {
        share_.push_back(p.area() * std::max(0.0F, -p.normal.dot(daylight_.toward_sun)));
        all += share_.back();
    }
    flux_ = lux_ * all;
    if (all > 0)
        for (float& s : share_) s /= all;
}

bool SunLight::may_reach(const Vec3& from) const {
    if (!openings_->closed || !openings_->inside(from)) return true;
    // From inside, the disc shows only through an opening; its half width is under a centimetre a metre.
    for (Rectangle p : openings_->rectangles) {
        const float slack = 0.01F * (p.centre - from).length();
        p.half_width += slack;
        p.half_height += slack;
        if (p.crossed_by(from, daylight_.toward_sun)) return true;
    }
    return false;
}

Vec3 SunLight::toward_disc(float u, float v) const {
    return Frame(daylight_.toward_sun).to_place(cone_direction(1.0 - daylight_.sun_cos_radius, u, v)).normalized();
}

std::optional<Incoming> SunLight::incoming(const Vec3& from, float u, float v) const {
    if (!may_reach(from)) return std::nullopt;
    Incoming in;
    in.toward = toward_disc(u, v);
    in.distance = endless;
    in.radiance = daylight_.sun_radiance;
    in.pdf = cone_density_;
    return in;
}

float SunLight::incoming_pdf(const Vec3&, const Hit&, const Vec3&) const {
    return cone_density_;
}

Spectrum SunLight::radiance(const Hit&, const Vec3& outward) const {
    // Compared by the chord: a dot product of floats cannot tell a quarter of a degree from none.
    const double chord2 = 2.0 * (1.0 - daylight_.sun_cos_radius);
    return (daylight_.toward_sun + outward).length2() <= chord2 ? daylight_.sun_radiance : Spectrum{};
}

EmittedRay SunLight::emitted(const std::array<float, 5>& u) const {
    EmittedRay ray;
    if (flux_ <= 0) return ray;
    const auto picked = pick(share_.size(), u[4], [&](std::size_t i) { return share_[i]; });
    if (!picked) return ray;
    const Rectangle& opening = openings_->rectangles[picked->which];
    ray.direction = -toward_disc(u[2], u[3]);
    ray.origin = past_the_glass(opening.at(u[0], u[1]), opening.normal, ray.direction);
    Hit end;
    end.position = ray.origin;
    ray.pdf = emission_pdf(end, ray.direction);
    ray.throughput = ray.pdf > 0 ? daylight_.sun_radiance * (1.0F / ray.pdf) : Spectrum{};
    ray.from_outside = Ray{ray.origin, -ray.direction, endless};
    return ray;
}

float SunLight::emission_pdf(const Hit& hit, const Vec3& outward) const {
    float pdf = 0;
    for (std::size_t i = 0; i < share_.size(); ++i) {
        const Rectangle& p = openings_->rectangles[i];
        const auto crossing = p.crossed_by(hit.position, -outward);
        if (crossing && crossing->cosine < 0) pdf += share_[i] * cone_density_ / (p.area() * -crossing->cosine);
    }
    return pdf;
}

float SunLight::expected_lux(const Vec3& from) const {
    return may_reach(from) ? lux_ : 0.0F;
}

}  // namespace rushlight
