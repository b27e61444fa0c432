// Daylight of plain numbers, for tests with closed-form answers.
#pragma once

#include "scene/light/sky.h"

#include <cmath>

namespace rushlight::by_hand {

/// Sky of luminance `sky` and ground of luminance `ground` (cd/m2), both even; a sun that gives `normal` lux.
inline Daylight outside(double sky, double ground, double normal = 0, Vec3 toward_sun = {0, 0, 1}) {
    Daylight d;
    d.lit = true;
    d.zenith_radiance = equal_energy() * static_cast<float>(sky);
    d.ground_radiance = equal_energy() * static_cast<float>(ground);
    d.sky_horizontal = Lux{pi * sky};
    d.sun = normal > 0;
    d.toward_sun = toward_sun.normalized();
    const double radius = radians(Degree{sun_angular_diameter / 2});
    d.sun_cos_radius = std::cos(radius);
    d.sun_irradiance = equal_energy() * static_cast<float>(normal);
    d.sun_radiance = d.sun_irradiance * static_cast<float>(1 / (pi * std::sin(radius) * std::sin(radius)));
    return d;
}

}  // namespace rushlight::by_hand
