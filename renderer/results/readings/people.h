// Everything that a set-up's camera makes of the people before it.
#pragma once

#include "paths/measure.h"
#include "results/frame/filtered_view.h"
#include "results/readings/sheet_meters.h"
#include "results/sheet/sheet.h"
#include "scene/scene.h"
#include "setup/plain/setup.h"

namespace rushlight {

/// Adds people and camera to a sheet whose light meters and separations are there, from what `meters` read. `scene` is
/// the set-up as it is asked for: what eyes and glasses mirror is traced in it. `filtered` is the picture through mist
/// and graduated ND, or null.
void read_people(const Setup& setup, const Scene& scene, const SheetMeters& meters, const MeterResults& results,
                 const Effort& effort, const FilteredView* filtered, Sheet& sheet);

}  // namespace rushlight
