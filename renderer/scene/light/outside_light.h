// Sun and sky as lights of a room: both come in by the openings, so openings are where they are aimed at
// from inside and where their rays start from.
#pragma once

#include "scene/light/lamps.h"
#include "scene/light/sky.h"

#include <memory>
#include <vector>

namespace rushlight {

/// Flat things at which walks are aimed.
struct AimedRectangles {
    std::vector<Rectangle> rectangles;

    /// A direction from `from` through one of them, even over each as seen from there; u, v in 0..1. Nothing when
    /// the one chosen is seen edge-on.
    struct Drawn {
        Vec3 direction;
        float pdf;  // per steradian
    };
    std::optional<Drawn> drawn(const Vec3& from, float u, float v) const;
    /// Pdf of drawn(), per steradian; zero where `direction` misses them all.
    float pdf(const Vec3& from, const Vec3& direction) const;
    /// About the solid angle that they fill.
    float extent(const Vec3& from) const;

private:
    static float weight(const Rectangle& opening, const Vec3& from);
};

/// The openings as flat rectangles whose normals point into the room, and the room they open into.
struct Openings : AimedRectangles {
    Vec3 lower{0, 0, 0}, upper{0, 0, 0};  // of the room's inside
    bool closed = false;                  // no daylight reaches the inside but through them
    bool inside(const Vec3& p) const;
};

class SkyLight {
public:
    SkyLight(const Daylight& outside, std::shared_ptr<const Openings> openings);
    std::optional<Incoming> incoming(const Vec3& from, float u, float v) const;
    float incoming_pdf(const Vec3& from, const Hit& hit, const Vec3& toward) const;
    Spectrum radiance(const Hit& hit, const Vec3& outward) const;
    Polarisation polarisation(const Vec3& toward) const { return daylight_.polarisation(toward); }
    EmittedRay emitted(const std::array<float, 5>& u) const;
    float emission_pdf(const Hit& hit, const Vec3& outward) const;
    float expected_lux(const Vec3& from) const;
    double flux() const { return flux_; }

private:
    /// In the open, or outside a closed room, the whole sky is asked; inside, what shows through the openings.
    bool under_the_sky(const Vec3& from) const;
    Daylight daylight_;
    std::shared_ptr<const Openings> openings_;
    float area_ = 0;
    double flux_ = 0;
    float mean_luminance_ = 0;
};

class SunLight {
public:
    SunLight(const Daylight& outside, std::shared_ptr<const Openings> openings);
    std::optional<Incoming> incoming(const Vec3& from, float u, float v) const;
    float incoming_pdf(const Vec3& from, const Hit& hit, const Vec3& toward) const;
    Spectrum radiance(const Hit& hit, const Vec3& outward) const;
    EmittedRay emitted(const std::array<float, 5>& u) const;
    float emission_pdf(const Hit& hit, const Vec3& outward) const;
    float expected_lux(const Vec3& from) const;
    double flux() const { return flux_; }

    /// Whether nothing but openings need be looked through for the disc to be seen from there.
    bool may_reach(const Vec3& from) const;
    /// A direction to the disc, even over it, and its pdf per steradian.
    Vec3 toward_disc(float u, float v) const;
    float disc_pdf() const { return cone_density_; }
    const Vec3& toward() const { return daylight_.toward_sun; }
    double cos_radius() const { return daylight_.sun_cos_radius; }
    const Spectrum& disc_radiance() const { return daylight_.sun_radiance; }
    float lux() const { return lux_; }

private:
    Daylight daylight_;
    std::shared_ptr<const Openings> openings_;
    std::vector<float> share_;  // of the emitted rays, by rectangle
    float cone_density_ = 0;    // 1 / solid angle of the disc
    double flux_ = 0;
    float lux_ = 0;
};

}  // namespace rushlight
