// All lights of a set-up. A light's number is its source's number: what it gives goes into that layer, unless the sky
// is told apart by its patches.
#pragma once

#include "scene/light/luminaire_lamp.h"
#include "scene/light/mirrored_sun.h"
#include "scene/light/outside_light.h"
#include "scene/light/ring_lamp.h"
#include "scene/light/sky_patches.h"

#include <span>
#include <string>
#include <variant>
#include <vector>

namespace rushlight {

using Light = std::variant<HardLamp, BoxLamp, BallLamp, TubeLamp, RingLamp, LuminaireLamp, SkyLight, SunLight>;

class Lights {
public:
    void add(std::string source, Light light);
    /// Call once after the last add(). Lights have images in these mirrors, and walks from the sun start at them too:
    /// see MirroredSun.
    void settle(std::span<const Mirror> mirrors = {});
    /// What share of each light gets in; lights without one do wholly. Walks start the seldomer the less it is.
    void start_by(std::span<const float> shares);
    /// A ray of this light alone.
    EmittedRay emitted_by(std::size_t light, const std::array<float, 5>& u) const {
        return std::visit([&](const auto& l) { return l.emitted(u); }, lights_[light]);
    }

    std::size_t count() const { return lights_.size(); }
    const std::vector<std::string>& sources() const { return sources_; }
    int sky() const { return sky_; }  // its number, or -1
    /// Sky and sun: what a ray that leaves the place ends in.
    std::span<const std::size_t> outside() const { return outside_; }

    /// From now on the light of each patch of sky has a layer of its own, after those of the lights; the sky's own
    /// layer keeps what comes from below the horizon.
    void tell_sky_apart(std::shared_ptr<const SkyPatches> patches) { patches_ = std::move(patches); }
    /// As many as lights, and patches of the sky where they are told apart.
    std::size_t layers() const { return lights_.size() + (patches_ ? patches_->count() : 0); }
    /// The layer for the light of this lamp, sun or sky, seen along unit `toward`.
    std::size_t layer(std::size_t light, const Vec3& toward) const {
        if (!patches_ || static_cast<int>(light) != sky_ || toward.z < 0) return light;
        return lights_.size() + patches_->of(toward);
    }

    /// Chance of asking each light for what it gives at `from`: by what it is expected to give there, with
    /// a floor so that none is forgotten. Returns the lux expected of all together.
    float chances(const Vec3& from, std::span<float> chance) const;

    std::optional<Incoming> incoming(std::size_t light, const Vec3& from, float u, float v) const;
    float incoming_pdf(std::size_t light, const Vec3& from, const Hit& hit, const Vec3& toward) const;
    Spectrum radiance(std::size_t light, const Hit& hit, const Vec3& outward) const;
    /// How the light of this source, seen along unit `toward`, is polarised: only the sky's is.
    Polarisation polarisation(std::size_t light, const Vec3& toward) const;
    float emission_pdf(std::size_t light, const Hit& hit, const Vec3& outward) const;
    /// The same of a ray of the sun that was started at this mirror, which it meets first.
    float emission_pdf_at_mirror(std::size_t light, int mirror, const Vec3& outward) const {
        return static_cast<int>(light) == sun_ && mirror >= 0
                   ? start_[light] * mirrored_.share() * mirrored_.emission_pdf(mirror, outward)
                   : 0.0F;
    }

    /// Whether an image of the light may show in this mirror to whoever stands at `at`, a point in the mirror's frame:
    /// never false where one shows, but of the sky, which fills too much of a mirror to be asked for in it.
    bool may_show(std::size_t light, std::size_t mirror, const Vec3& at) const {
        const std::size_t i = mirror * lights_.size() + light;
        return i < whereabouts_.size() && whereabouts_[i].radius > 0 && rushlight::may_show(whereabouts_[i], at);
    }
    /// About what the light would give at `from`, the image of a point in a mirror.
    float expected_lux_by_mirror(std::size_t light, const Vec3& from) const;
    /// What arrives at `from`, the image of a point in a mirror: as incoming(), but for openings, which `from` does not
    /// stand to as the point does.
    std::optional<Incoming> incoming_by_mirror(std::size_t light, const Vec3& from, float u, float v) const;
    /// Whether this light can be seen from `from` for all that openings say.
    bool may_reach(std::size_t light, const Vec3& from) const;

    struct Start {
        std::size_t light = 0;
        EmittedRay ray;   // carried and pdf already hold the chance of the light
        int mirror = -1;  // where it starts, if it is one of the sun's that start at mirrors: not weighed yet
    };
    /// A light by the flux of it that gets in (with a floor) and a ray of it.
    Start emitted(float choice, const std::array<float, 5>& u) const;
    /// Chance that emitted() starts from this light.
    float start_chance(std::size_t light) const { return start_[light]; }

    std::string content;  // fingerprint of what the set-up does not say of them; empty where there is nothing such

private:
    std::vector<Light> lights_;
    std::vector<std::string> sources_;
    std::vector<float> start_;
    int sky_ = -1, sun_ = -1;
    MirroredSun mirrored_;
    std::vector<Whereabouts> whereabouts_;  // [mirror][light]; of no radius: not asked for
    std::vector<std::size_t> outside_;
    std::shared_ptr<const SkyPatches> patches_;  // or null
};

}  // namespace rushlight
