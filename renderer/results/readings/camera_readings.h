// What concerns the lens itself: the windows it sees, what shines on it, what is sharp.
#pragma once

#include "results/frame/filtered_view.h"
#include "results/readings/sheet_meters.h"
#include "results/sheet/sheet.h"
#include "scene/rays/camera_view.h"

namespace rushlight {

/// A luminance as the camera places it.
Measured over_grey(const Measured& luminance, const Exposure& exposure);
/// "clips", "lost", or nothing.
std::string range_state(const Measured& over_grey, const Camera& camera);

/// Everything that needs no tracing.
CameraReadings describe_camera(const Setup& setup, const Camera& camera);

/// The windows in view and the light on the lens, from what `meters` read, and what shines straight on it in `scene`.
void read_lens(const Setup& setup, const Scene& scene, const CameraView& view, const SheetMeters& meters,
               const MeterResults& results, const FilteredView* filtered, CameraReadings& readings);

/// How each window lies over the face whose key cheek is `face` cd/m2 and gets `lux`: what would hold it.
void hold_windows_against(const Measured& face, double lux, CameraReadings& readings);

}  // namespace rushlight
