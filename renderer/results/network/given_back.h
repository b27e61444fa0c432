// The network guesses, and its guess is darker or brighter than what was traced. Where traced light is surer, it wins.
#pragma once

#include "paths/work/effort.h"
#include "quantity/space.h"

#include <vector>

namespace rushlight {

/// Gives `calm` the light of `traced` (both X, Y, Z, row by row) over windows of some 260, 130, 70 and 35 pixels, the
/// wide ones first: the difference of their means as far as the noise of the traced light doesn't explain it (James and
/// Stein's estimate of the one beside the variance of the other). That noise is the spread of single pixels around
/// `calm`, never less than in wider windows: rare walks that carry much are missing in most small ones. Colour follows
/// in the widest alone. Hair and all else have windows of their own, by the share of each pixel that is hair (0..1;
/// nothing: none is).
void give_back(int width, int height, const std::vector<Vec3>& traced, const std::vector<float>& hair,
               std::vector<Vec3>& calm, const Effort& effort);

}  // namespace rushlight
