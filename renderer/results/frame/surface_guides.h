// Guides that tell one surface from another in a picture, so that the preview filter knows where it may take light
// from.
#pragma once

#include "results/frame/layered_frame.h"
#include "scene/rays/ray_scene.h"

#include <vector>

namespace rushlight {

struct Guide {
    Vec3 position{0, 0, 0}, normal{0, 0, 1};
    float slack = 0;    // m off the plane that still counts as the same surface; 0: nothing is here
    bool hair = false;  // many fibres, none of them a surface: alike as far as they are near
    bool edge = false;  // part of the pixel sees something else: its light is no example for others
    int blurred = 0;    // out of focus over several surfaces: pixels that its blur spans; takes after all around it
};

/// 0..1: how far the light of `b` is an example for `a`.
float likeness(const Guide& a, const Guide& b);

/// One for each pixel of the frame.
std::vector<Guide> guides_of(const LayeredFrame& frame);
/// The guide of something seen along a ray of the frame's camera.
Guide guide_of(const SurfaceSeen& seen, const Ray& ray);

/// X, Y and Z that the surface sends back of white light.
Vec3 reflectance_seen(const Spectrum& albedo);

}  // namespace rushlight
