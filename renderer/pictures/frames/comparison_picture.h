// Options side by side in one picture: frames at one exposure, and under each what its meters say.
#pragma once

#include "pictures/draw/image.h"
#include "results/compare/comparison.h"

namespace rushlight {

/// Frames must be of one size. What differs from the first by no more than the noise is said to be within it.
Image comparison_picture(const Comparison& comparison, bool filtered);

/// Columns that so many tiles are laid in.
int tile_columns(std::size_t tiles);

}  // namespace rushlight
