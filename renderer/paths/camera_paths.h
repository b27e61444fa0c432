// Walks that start at a meter or a pixel and collect what reaches it, one sum a source.
#pragma once

#include "paths/light_paths.h"
#include "paths/sampler.h"
#include "scene/scene.h"

#include <span>
#include <vector>

namespace rushlight {

/// How the two kinds of walks share the work; the same for a whole run, so that weights stay fair.
struct Sharing {
    std::uint32_t light_paths = 0;      // a batch; 0: walks from the meters alone, asking lamps on the way
    std::uint32_t camera_paths = 1;     // a batch, for each meter
    float join_samples = 0;             // joins at a camera vertex per light path: 1 / vertices of a light path
    bool looks = true;                  // whether every light path looks at every meter
    /// Looks from light paths at a meter, per camera path of that meter.
    float look_samples() const {
        return looks ? static_cast<float>(light_paths) / static_cast<float>(camera_paths) : 0.0F;
    }
    Sharing without_looks() const {
        Sharing s = *this;
        s.looks = false;
        return s;
    }
};

enum class MeterKind { flat, dome, spot };

/// Where light is measured. A flat disc weighs light by the cosine with `facing`, a dome by (1 + cosine) / 2;
/// a spot meter looks along `facing` at a small circle and measures luminance.
struct MeterPoint {
    MeterKind kind = MeterKind::flat;
    Vec3 at{0, 0, 0};
    Vec3 facing{0, 0, 1};
    float spot_radius = 0;              // tangent of the circle's half-angle
    float expected = 0;                 // about what it will read; 0: not known. See worth_a_ray().

    float response(const Vec3& toward) const;
};

/// Adds to `layers`, a source each, one estimate of what the meter reads, from one walk and the joins it makes.
void collect_at_meter(const Scene& scene, const MeterPoint& meter, const LightPaths& pool, const Sharing& sharing,
                      Sampler sampler, std::span<Spectrum> layers);

/// The same for the radiance that comes against `ray`. No light path looks at a camera.
void collect_along(const Scene& scene, const Ray& ray, const LightPaths& pool, const Sharing& sharing, Sampler& sampler,
                   std::span<Spectrum> layers);

/// Adds what every light path of the batch shows to the meter directly, summed over the batch.
void look_at_light_paths(const Scene& scene, const MeterPoint& meter, const LightPaths& pool, const Sharing& sharing,
                         Sampler sampler, std::span<Spectrum> layers);

}  // namespace rushlight
