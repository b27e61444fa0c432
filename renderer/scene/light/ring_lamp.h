// A flat ring of light round the lens or on a stand: the fifth shape, with the same answers as the others.
#pragma once

#include "scene/light/lamps.h"

namespace rushlight {

/// An even Lambertian ring, lit on its front: the outer disc less the inner, cut into so many corners that its area,
/// which is kept, is spread as a true ring's to a few in a thousand.
class RingLamp {
public:
    explicit RingLamp(const Lamp& lamp);
    std::optional<Incoming> incoming(const Vec3& from, float u, float v) const;
    float incoming_pdf(const Vec3& from, const Hit& hit, const Vec3& toward) const;
    Spectrum radiance(const Hit& hit, const Vec3& outward) const;
    EmittedRay emitted(const std::array<float, 5>& u) const;
    float emission_pdf(const Hit& hit, const Vec3& outward) const;
    float expected_lux(const Vec3& from) const;
    double flux() const { return flux_; }
    Mesh glow() const;

private:
    static constexpr std::size_t corners = 48;
    Vec3 corner(std::size_t i, float radius) const;
    Vec3 even_point(float u, float v) const;

    Vec3 at_, aim_;
    std::array<Vec3, corners> out_;  // of the middle, toward each corner; unit
    float outer_, inner_, area_;
    Spectrum radiance_;
    float luminance_;
    double flux_;
};

}  // namespace rushlight
