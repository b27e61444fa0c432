// Walks that start at a meter or a pixel and collect what reaches it, one sum a source.
#pragma once

#include "paths/walk/last_surface.h"
#include "paths/walk/light_paths.h"
#include "paths/walk/lit_patches.h"
#include "paths/walk/sampler.h"
#include "scene/scene.h"

#include <algorithm>
#include <span>
#include <vector>

namespace rushlight {

/// How the two kinds of walks share the work; the same for a whole run, so that weights stay fair.
struct Sharing {
    std::uint32_t light_paths = 0;   // a batch; 0: walks from the meters alone, asking lamps on the way
    std::uint32_t camera_paths = 1;  // a batch, for each meter
    float connection_samples = 0;    // what a join at a camera vertex counts for, per light path: see sharing_for()
    bool looks = true;               // whether every light path looks at every meter
    int patience = 3;                // meetings before a walk is gambled on: see survival_probability()
    int candidates = 4;              // light vertices looked at for a join, save at a surface in view
    static Sharing meters_alone(std::uint32_t camera_paths) { return {0, camera_paths, 0, false}; }
    /// Looks from light paths at a meter, per camera path of that meter.
    float look_samples() const {
        return looks ? static_cast<float>(light_paths) / static_cast<float>(camera_paths) : 0.0F;
    }
    /// Behind the first surface a join counts for half its candidates: other ways are about as good there.
    static constexpr float worth_of_a_candidate = 0.5F;
    /// One over the vertices of a light path: what a candidate would count for if it were a join.
    float samples_a_candidate() const {
        return connection_samples / (worth_of_a_candidate * static_cast<float>(candidates));
    }
    /// For many points with one walk each: nothing looks at them, and a new walk is worth more than a long one.
    Sharing for_fields() const {
        Sharing s = *this;
        s.looks = false;
        s.patience = 0;
        s.candidates = 2;
        s.connection_samples *= static_cast<float>(s.candidates) / static_cast<float>(candidates);
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
    float spot_radius = 0;  // tangent of the circle's half-angle
    float expected = 0;     // about what it will read; 0: not known. See worth_a_ray().
    float besides = 0;      // what it reads besides, measured elsewhere: errors count against the whole
    float enough = 0;       // relative error at which it is sure enough at the usual effort; 0: what is asked for
    float unmet = 0;        // what a pass would read if it met for once what it may miss: see unmet_light.h
    std::vector<AimedCone> aims = {};  // where bright things lie, found by a pilot; may be empty

    /// What is enough here, for a relative error that is asked for: a number on a coarser scale keeps its distance where
    /// more than the usual is asked, and waits for the others where less is.
    double times_the_error(double relative_error) const {
        constexpr double usual = 0.01;
        return std::max(1.0, static_cast<double>(enough) / std::max(usual, relative_error));
    }
    float response(const Vec3& toward) const;
};

/// Adds to `layers` (see Lights::layer()) one estimate of the meter's reading, from one walk and the joins it makes.
/// With `last_surfaces`, `layers` holds every layer once for each group of last surfaces, one group after the other.
void collect_at_meter(const Scene& scene, const MeterPoint& meter, const LightPaths& pool, const Sharing& sharing,
                      Sampler sampler, std::span<Spectrum> layers, const LastSurfaces* last_surfaces = nullptr);

/// Light of a pixel that a preview may smooth: shadows of lamps and of the sun are in neither.
struct SplitLight {
    Spectrum soft;                // fell from the sky on the first surface
    std::span<Spectrum> bounced;  // was bounced before it fell on the first surface, a source each; may be empty
};

/// The same for the radiance that comes against `ray`. No light path looks at a camera. If `split` is given, the light
/// that belongs there is also added to it. `analyser`: a polarizing filter before the lens.
void collect_along(const Scene& scene, const Ray& ray, const LightPaths& pool, const Sharing& sharing, Sampler& sampler,
                   std::span<Spectrum> layers, SplitLight* split = nullptr, const Analyser* analyser = nullptr);

}  // namespace rushlight
