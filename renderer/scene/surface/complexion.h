// The colour of skin from light to deep: what melanin over blood leaves of white light.
#pragma once

#include "quantity/spectrum.h"

namespace rushlight {

/// Reflectance of the body of the skin, its gloss apart, whose luminous share under equal-energy light is
/// `luminous`. Blood dips fair skin at 540 and 580 nm; under much melanin the curve is flat.
Spectrum skin_body(double luminous);

}  // namespace rushlight
