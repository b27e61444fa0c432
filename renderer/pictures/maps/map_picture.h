// Light maps as pictures: colour over what the camera sees, or over a plan, with numbers on it and the
// legend beside it.
#pragma once

#include "pictures/draw/image.h"
#include "results/frame/light_map.h"

namespace rushlight {

enum class MapUnit { lux, stops };

/// The picture of a map, with title and legend. In both units a colour means the same: stops over what the
/// camera's exposure asks for (without a camera: over a round number of lux near the middle of the map).
/// Stops come in bands (false_colour.h), lux as an even change with lines at 1, 2, 5, 10 ... lux on a plan.
Image map_picture(const LightMap& map, MapUnit unit);

}  // namespace rushlight
