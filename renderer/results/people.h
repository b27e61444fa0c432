// Everything that a set-up's camera makes of the people before it.
#pragma once

#include "paths/measure.h"
#include "results/sheet.h"
#include "scene/scene.h"
#include "setup/setup.h"

namespace rushlight {

/// Adds people and camera to a sheet whose light meters and separations are there: `points` and `results` are those
/// of face_meters.h. Spots are sure to 3 %, or to what `effort` asks for if that is less.
void read_people(const Setup& setup, const Scene& scene, const std::vector<MeterPoint>& points,
                 const MeterResults& results, const Effort& effort, Sheet& sheet);

}  // namespace rushlight
