// The sheet of ND for the glass that takes enough.
#pragma once

#include "quantity/units.h"

#include <cmath>

namespace rushlight {

/// Density of the thinnest sheet, or sheets laid together, that takes at least `needed`. Sheets as they are sold
/// (common practice, no source).
inline double nd_sheet_for(Stop needed) {
    constexpr double sheets[] = {0.15, 0.3, 0.6, 0.9, 1.2, 1.5, 1.8, 2.1, 2.4};
    constexpr double densest = 2.4;
    const double density = needed.value * std::log10(2.0);
    const double whole = density > densest ? densest * std::floor(density / densest) : 0;
    for (const double sheet : sheets)
        if (whole + sheet >= density) return whole + sheet;
    return whole + densest;
}

}  // namespace rushlight
