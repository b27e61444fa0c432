// Shapes that lamps glow in: hard heads, boxes, balls and tubes. Each answers the same questions: what arrives at a
// point, how likely was that choice, what leaves it along a ray, and how densely its rays fill space.
//
// Pdfs of rays are per unit of projected area and solid angle (per etendue, 1/(m2 sr)), which stays the
// same along a ray; so a path can be weighed without asking how its first light point was picked.
#pragma once

#include "quantity/space.h"
#include "quantity/spectrum.h"
#include "scene/rays/mesh.h"
#include "scene/rays/ray_scene.h"
#include "scene/rays/rectangle.h"
#include "setup/plain/rig.h"

#include <array>
#include <optional>
#include <vector>

namespace rushlight {

/// Light that arrives at a point from one direction, before anything stands in its way.
struct Incoming {
    Vec3 toward{0, 0, 1};  // unit, from the point to the light
    float distance = 0;    // infinity for sun and sky
    Spectrum radiance;
    float pdf = 0;                // of picking `toward`, per steradian
    std::uint32_t primitive = 0;  // of the glowing mesh, where it matters
    bool round = false;           // the lamp curves towards the point: see RayScene::passes()
};

/// A ray that leaves a light: `throughput` is radiance * cosine / pdf, so that its mean is the flux.
struct EmittedRay {
    Vec3 origin{0, 0, 0};
    Vec3 direction{0, 0, 1};
    Spectrum throughput;
    float pdf = 0;                    // of such rays, per etendue
    std::uint32_t primitive = 0;      // of the glowing mesh
    std::optional<Ray> from_outside;  // daylight: this ray outwards must reach the sky for the light to exist
};

/// A hard source behind a reflector or lens: a disc whose intensity falls smoothly off its aim,
/// I = I0 exp(-ln 2 (angle / half beam)^p), with p such that a tenth is left at half the field angle.
class HardLamp {
public:
    explicit HardLamp(const Lamp& lamp);
    std::optional<Incoming> incoming(const Vec3& from, float u, float v) const;
    float incoming_pdf(const Vec3& from, const Hit& hit, const Vec3& toward) const;
    Spectrum radiance(const Hit& hit, const Vec3& outward) const;
    EmittedRay emitted(const std::array<float, 5>& u) const;
    float emission_pdf(const Hit& hit, const Vec3& outward) const;
    float expected_lux(const Vec3& from) const;
    double flux() const { return flux_; }
    Mesh glow() const;

private:
    static constexpr int corners = 24, steps = 256;
    Vec3 even_point(float u, float v) const;
    float profile(float angle) const;
    float direction_density(float cosine) const;  // per steradian

    Vec3 at_, aim_;
    std::array<Vec3, corners + 1> corner_;  // of the polygon that stands for the disc; the last is the first again
    float radius_, area_, half_beam_, power_, darkest_;
    Spectrum peak_;  // candela on the aim
    float peak_candela_;
    double flux_;
    std::array<float, steps + 1> below_{};  // the flux within the angle i * darkest / steps, as a share
};

/// Even rectangle lit on its front, its light narrowed by a fabric grid if there is one: a grid of angle g
/// lets max(0, 1 - tan(angle) / (2 tan(g / 2))) of the face be seen, half of it at g / 2.
class BoxLamp {
public:
    explicit BoxLamp(const Lamp& lamp);
    std::optional<Incoming> incoming(const Vec3& from, float u, float v) const;
    float incoming_pdf(const Vec3& from, const Hit& hit, const Vec3& toward) const;
    Spectrum radiance(const Hit& hit, const Vec3& outward) const;
    EmittedRay emitted(const std::array<float, 5>& u) const;
    float emission_pdf(const Hit& hit, const Vec3& outward) const;
    float expected_lux(const Vec3& from) const;
    double flux() const { return flux_; }
    Mesh glow() const;

private:
    float seen_through_grid(float cosine) const;
    Rectangle face_;
    Spectrum radiance_;
    float luminance_;
    float grid_tangent_;  // 0: no grid
    double flux_;
};

/// A sphere, even all round: I = pi L R^2.
class BallLamp {
public:
    explicit BallLamp(const Lamp& lamp);
    std::optional<Incoming> incoming(const Vec3& from, float u, float v) const;
    float incoming_pdf(const Vec3& from, const Hit& hit, const Vec3& toward) const;
    Spectrum radiance(const Hit& hit, const Vec3& outward) const;
    EmittedRay emitted(const std::array<float, 5>& u) const;
    float emission_pdf(const Hit& hit, const Vec3& outward) const;
    float expected_lux(const Vec3& from) const;
    double flux() const { return flux_; }
    const Vec3& centre() const { return centre_; }
    float radius() const { return radius_; }

private:
    double cone_height(double distance) const;
    Vec3 centre_;
    float radius_;
    Spectrum radiance_;
    double flux_;
};

/// A line of light: the side of a many-sided prism of the tube's girth, even around its axis.
class TubeLamp {
public:
    explicit TubeLamp(const Lamp& lamp);
    std::optional<Incoming> incoming(const Vec3& from, float u, float v) const;
    float incoming_pdf(const Vec3& from, const Hit& hit, const Vec3& toward) const;
    Spectrum radiance(const Hit& hit, const Vec3& outward) const;
    EmittedRay emitted(const std::array<float, 5>& u) const;
    float emission_pdf(const Hit& hit, const Vec3& outward) const;
    float expected_lux(const Vec3& from) const;
    double flux() const { return flux_; }
    Mesh glow() const;

private:
    static constexpr int sides = 32;  // so many that turning it about its axis changes nothing by more than .3 %
    /// The share of the choice that each side gets, as seen from a point. Only sides that face the point get one.
    std::array<float, sides> facing(const Vec3& from) const;
    std::array<Rectangle, sides> side_;
    float area_;
    Spectrum radiance_;
    double flux_;
};

}  // namespace rushlight
