// What concerns the lens itself: the windows it sees, what shines on it, what is sharp.
#pragma once

#include "paths/work/effort.h"
#include "results/frame/filtered_view.h"
#include "results/light/kept_light.h"
#include "results/sheet/sheet.h"
#include "results/readings/spots.h"
#include "scene/rays/camera_view.h"

namespace rushlight {

/// A luminance as the camera places it.
Measured over_grey(const Measured& luminance, const Exposure& exposure);
/// "clips", "lost", or nothing.
std::string range_state(const Measured& over_grey, const Camera& camera);

/// Everything that needs no tracing.
CameraReadings describe_camera(const Setup& setup, const Camera& camera);

/// Measures the windows in view and the light on the lens, by `light` of the scene `traced`, and finds what shines
/// straight on it in the scene as it is asked for. Returns seconds.
double read_lens(const Setup& setup, const Scene& traced, const Scene& scene, const CameraView& view,
                 const Effort& effort, KeptLight& light, const FilteredView* filtered, CameraReadings& readings);

/// How each window lies over the face whose key cheek is `face` cd/m2 and gets `lux`: what would hold it.
void hold_windows_against(const Measured& face, double lux, CameraReadings& readings);

}  // namespace rushlight
