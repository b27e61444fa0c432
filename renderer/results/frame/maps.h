// Light maps: a flat meter held against every surface that the camera sees, or level at every point of a
// plane.
#pragma once

#include "paths/work/effort.h"
#include "results/light/kept_light.h"
#include "results/frame/light_map.h"
#include "scene/scene.h"
#include "setup/plain/setup.h"

namespace rushlight {

/// Over the camera's view; the set-up must have a camera.
LightMap map_view(const Setup& setup, const Scene& scene, int width, int height, const Effort& effort,
                  KeptLight& light);
/// A level plane `plane_height` above the floor, looking up, over the whole place. `longest` pixels on the
/// longer side.
LightMap map_plane(const Setup& setup, const Scene& scene, Metre plane_height, int longest, const Effort& effort,
                   KeptLight& light);

}  // namespace rushlight
