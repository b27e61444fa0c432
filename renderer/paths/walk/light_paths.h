// Walks that start at lamps, sun and sky, kept as the places where their light fell: boards, cloths, patches
// of sun, and whatever those light in turn. Meters look at all of them, walks from the camera at some.
#pragma once

#include "paths/walk/walk.h"

#include <cstdint>
#include <optional>
#include <vector>

namespace rushlight {

/// How a walk from a light begins.
struct SetOut {
    Lights::Start start;
    Spectrum throughput;
    float emission_pdf = 0;
    float from_outside = 1;  // chance of having come through the glass, as a walk that goes out has
    Ray ray;
    VeilPlan plan;
};
std::optional<SetOut> set_out(const Scene& scene, Sampler& sampler);

/// Rays of the sun come to a mirror in two ways: from the light, as this one came, or started there. What such a ray is
/// worth by its `emission_pdf`, which becomes the density of both.
float worth_at_first_mirror(const Scene& scene, const SetOut& out, const VeilPlan::Fold& first, float& emission_pdf);

struct LightPaths {
    std::vector<Vertex> vertices;
    std::vector<std::uint32_t> layers;  // of each vertex: the layer of its light
    std::uint32_t paths = 0;            // walks started, those that met nothing included
};

/// `count` walks numbered from `first`; `connection_samples` is the number of joins that a camera walk makes at each
/// of its vertices, per light path (see camera_paths.h).
LightPaths trace_light_paths(const Scene& scene, std::uint64_t stream, std::uint32_t first, std::uint32_t count,
                             float connection_samples);

}  // namespace rushlight
