// Everything that a set-up's camera makes of the people before it.
#pragma once

#include "paths/measure.h"
#include "results/frame/filtered_view.h"
#include "results/light/kept_light.h"
#include "results/sheet/sheet.h"
#include "scene/scene.h"
#include "setup/plain/setup.h"

namespace rushlight {

/// Adds people and camera to a sheet whose light meters and separations are there: `points` and `results` are those
/// of face_meters.h. Spots are sure to 3 %, or to what `effort` asks for if that is less; their light is `light`'s, of
/// the scene `traced`. `scene` is the set-up as it is asked for: the same, unless other levels or gels are tried.
/// `filtered` is the picture through mist and graduated ND, or null.
void read_people(const Setup& setup, const Scene& traced, const Scene& scene, const std::vector<MeterPoint>& points,
                 const MeterResults& results, const Effort& effort, KeptLight& light, const FilteredView* filtered,
                 Sheet& sheet);

}  // namespace rushlight
