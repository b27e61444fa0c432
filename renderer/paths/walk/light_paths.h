// Walks that start at lamps, sun and sky, kept as the places where their light fell: boards, cloths, patches
// of sun, and whatever those light in turn. Meters look at all of them, walks from the camera at some.
#pragma once

#include "paths/walk/vertex.h"
#include "scene/scene.h"

#include <cstdint>
#include <vector>

namespace rushlight {

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
