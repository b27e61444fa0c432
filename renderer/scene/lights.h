// All lights of a set-up. A light's number is its source's number: what it gives goes into that layer.
#pragma once

#include "scene/luminaire_lamp.h"
#include "scene/outside_light.h"
#include "scene/ring_lamp.h"

#include <span>
#include <string>
#include <variant>
#include <vector>

namespace rushlight {

using Light = std::variant<HardLamp, BoxLamp, BallLamp, TubeLamp, RingLamp, LuminaireLamp, SkyLight, SunLight>;

class Lights {
public:
    void add(std::string source, Light light);
    /// Call once after the last add().
    void settle();

    std::size_t count() const { return lights_.size(); }
    const std::vector<std::string>& sources() const { return sources_; }
    const Light& operator[](std::size_t i) const { return lights_[i]; }
    int sky() const { return sky_; }  // its number, or -1
    int sun() const { return sun_; }

    /// Chance of asking each light for what it gives at `from`: by what it is expected to give there, with
    /// a floor so that none is forgotten.
    void chances(const Vec3& from, std::span<float> chance) const;

    std::optional<Incoming> incoming(std::size_t light, const Vec3& from, float u, float v) const;
    float incoming_density(std::size_t light, const Vec3& from, const Hit& hit, const Vec3& toward) const;
    Spectrum radiance(std::size_t light, const Hit& hit, const Vec3& outward) const;
    float ray_density(std::size_t light, const Hit& hit, const Vec3& outward) const;

    struct Start {
        std::size_t light = 0;
        EmittedRay ray;  // carried and density already hold the chance of the light
    };
    /// A light by its flux (with a floor) and a ray of it.
    Start emitted(float choice, const std::array<float, 5>& u) const;
    /// Chance that emitted() starts from this light.
    float start_chance(std::size_t light) const { return start_[light]; }

private:
    std::vector<Light> lights_;
    std::vector<std::string> sources_;
    std::vector<float> start_;
    int sky_ = -1, sun_ = -1;
};

}  // namespace rushlight
