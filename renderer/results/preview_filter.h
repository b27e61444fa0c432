// A filter for looking at frames that are still noisy. It smooths light that was bounced on its way and, less far,
// the light of the sky, over one surface at a time; what lamps and sun throw, and its shadows, stay as traced. Never
// used under a reading or a map, and the layers on disk stay unfiltered.
#pragma once

#include "results/layered_frame.h"

#include <vector>

namespace rushlight {

/// What to add to each pixel's X, Y, Z (cd/m2) to see it filtered. An edge-avoiding a-trous filter (Dammertz et
/// al. 2010) on light without the surface's own reflectance, guided by normals and planes alone: it looks at no
/// brightness, so that it is linear in the light and does not darken what is noisy. How far it reaches follows
/// from the frame's noise; a clean frame gets none. Pixels on sharp edges are put together of their parts. In hair
/// alone it looks at brightness: sparks are spread.
std::vector<Vec3> preview_correction(const LayeredFrame& frame);

}  // namespace rushlight
