// Which light vertex a walk is joined to: what each promises, told cheaply.
#pragma once

#include "paths/walk/vertex.h"

namespace rushlight {

/// About what joining the two comes to, photometrically and but for a factor of `v`: near enough to choose by where no
/// metal or pane is about. The first line of `y` is all that is looked at, and coats count as matt. `connections` is
/// the number of samples that the join counts for.
float promise_of_join(const Vertex& v, const Vertex& y, float connections);

}  // namespace rushlight
