// The frame through the camera, a layer a source.
#pragma once

#include "paths/work/effort.h"
#include "results/light/kept_light.h"
#include "results/frame/layered_frame.h"
#include "scene/scene.h"
#include "setup/plain/setup.h"

#include <cstdint>

namespace rushlight {

/// Bytes that the frame's layers will take.
std::uint64_t frame_bytes(int width, int height, std::size_t sources);

/// Traces the set-up's camera. `effort.relative_error` is the noise wanted of a pixel, as a mean over the
/// picture. The set-up must have a camera.
LayeredFrame trace_frame(const Setup& setup, const Scene& scene, int width, int height, const Effort& effort,
                         KeptLight& light);
LayeredFrame trace_frame(const Setup& setup, const Scene& scene, int width, int height, const Effort& effort);

}  // namespace rushlight
