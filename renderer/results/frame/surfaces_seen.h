// The surface that each pixel of a frame sees, for the preview filter and for pages.
#pragma once

#include "paths/work/effort.h"
#include "results/frame/layered_frame.h"
#include "scene/rays/camera_view.h"
#include "scene/scene.h"

namespace rushlight {

/// Fills the frame's normals, distances, albedos, hair and fringes.
void see_surfaces(const Scene& scene, const CameraView& view, LayeredFrame& frame, const Effort& effort);

/// No more of them are kept: memory is predicted.
std::size_t most_fringes(std::size_t pixels);

}  // namespace rushlight
