// Where the meters of a light map are held.
#pragma once

#include "paths/walk/camera_paths.h"
#include "paths/work/effort.h"
#include "results/frame/light_map.h"
#include "scene/scene.h"
#include "setup/plain/setup.h"

#include <vector>

namespace rushlight {

/// One flat meter a point, row by row from the top; points without one have nothing to measure.
struct MapPoints {
    int width = 0, height = 0;
    std::vector<MeterPoint> meters;
    std::vector<char> there;
    std::vector<float> shade;                                 // as in LightMap; empty on a plane
    std::vector<std::uint16_t> thing;                         // as in LightMap
    std::vector<LightMap::Thing> things;
    double metres_per_pixel = 0, origin_x = 0, origin_y = 0;  // of a plane, as in LightMap
};

/// Held against every surface that the camera sees; the set-up must have a camera.
MapPoints points_in_view(const Setup& setup, const Scene& scene, int width, int height, const Effort& effort);
/// Level over the whole place, `longest` points on the longer side.
MapPoints points_on_plane(const Setup& setup, Metre plane_height, int longest);

}  // namespace rushlight
