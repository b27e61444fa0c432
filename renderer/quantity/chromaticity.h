// Where a colour lies among colours of one brightness.
#pragma once

#include "quantity/colour.h"

namespace rushlight {

/// CIE 1960 uniform chromaticity: distances from the locus of black bodies (Duv) are told in it.
struct Uv {
    double u = 0, v = 0;
};

/// u = 4 X / (X + 15 Y + 3 Z), v = 6 Y / (X + 15 Y + 3 Z) (CIE 15).
inline Uv uv(const Tristimulus& t) {
    const double sum = t.x + 15 * t.y + 3 * t.z;
    return {4 * t.x / sum, 6 * t.y / sum};
}

/// XYZ of a chromaticity at Y = 1.
inline Tristimulus at_unit_luminance(Chromaticity c) {
    return {c.x / c.y, 1.0, (1 - c.x - c.y) / c.y};
}
inline Tristimulus at_unit_luminance(Uv c) {
    const double down = 2 * c.u - 8 * c.v + 4;
    return at_unit_luminance(Chromaticity{3 * c.u / down, 2 * c.v / down});
}

inline Triple triple(const Tristimulus& t) {
    return {t.x, t.y, t.z};
}

}  // namespace rushlight
