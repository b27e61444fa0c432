// A frame's layers as a preview shows them.
#pragma once

#include "paths/work/effort.h"
#include "results/frame/layered_frame.h"

#include <vector>

namespace rushlight::desk {

/// [source][pixel]: each layer with what preview_correction() would add to it, put into bands that look like the
/// layer's own light. The correction is linear in the light, so the sum of the layers is the smoothed frame, whatever
/// their levels; where a band would fall under zero it ends there.
std::vector<std::vector<Spectrum>> smoothed_layers(const LayeredFrame& frame, const Effort& effort = {});

}  // namespace rushlight::desk
