// The one law that all our filters follow.
#pragma once

#include "quantity/colour.h"

namespace rushlight {

/// Band values of exp(slope n + bend n^2), n reciprocal wavelength in 1/um from 555 nm: the simplest law that can move
/// a colour both ways. Their scale is free, so that they may be more than 1.
Spectrum free_shares(double slope, double bend);

/// Band shares of a filter before `light` that has the colour of these, but none of whose bands passes more than all: a
/// sigmoid of such a parabola. It passes `share` of `light` photometrically; where no such filter can pass so much, the
/// colour is kept and it passes less.
Spectrum dyed(double slope, double bend, double share, const Spectrum& light);

}  // namespace rushlight
