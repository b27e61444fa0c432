// The light in the eyes: what a cornea mirrors into the lens.
#pragma once

#include "paths/work/effort.h"
#include "results/sheet/sheet.h"
#include "scene/rays/camera_view.h"
#include "scene/scene.h"

namespace rushlight {

inline constexpr double iris_reflectance = 0.05;  // docs/people.md

/// Lights mirrored in the cornea nearer the lens. The cornea is a ball of 7.8 mm of index 1.376, so each point of it
/// shows one direction of the room. `iris` is the luminance of the iris, cd/m2; what is mirrored must be a stop and a
/// half brighter than it to read as a light (common practice, no source). Fills in `eye_seen` and `eye_lights`; returns
/// seconds taken.
double find_eye_lights(const Scene& scene, const CameraView& view, int mark, double iris, const Effort& effort,
                       PersonReadings& person);

/// Hours on a clock face of a place `right` and `up` of the middle.
double clock_of(double right, double up);

}  // namespace rushlight
