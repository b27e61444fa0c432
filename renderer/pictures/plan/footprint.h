// The ground that a model covers, seen from above.
#pragma once

#include "pictures/draw/joined_lines.h"
#include "setup/plain/place.h"

namespace rushlight {

/// Closed outlines (even-odd) of all that lies between two heights, m: to a centimetre, or to a two-hundredth of
/// its width. What is upright covers nothing.
std::vector<PlanLine> footprint(const Triangles& model, double from_height, double to_height);

}  // namespace rushlight
