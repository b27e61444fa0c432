// The one law that all our filters follow.
#pragma once

#include "quantity/colour.h"

namespace rushlight {

/// Band shares of a filter before `light` that has the colour of exp(slope n + bend n^2), n reciprocal wavelength in
/// 1/um from 555 nm, but none of whose bands passes more than all: a sigmoid of such a parabola. It passes `share` of
/// `light` photometrically; where no such filter can pass so much, the colour is kept and it passes less.
Spectrum dyed(double slope, double bend, double share, const Spectrum& light);

}  // namespace rushlight
