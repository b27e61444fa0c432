// When the sun itself reaches something: rays to it, minute by minute.
#pragma once

#include "results/day/day_course.h"
#include "results/sheet/face_meters.h"

namespace rushlight {

/// Every face ("A's face": a cheek or the front), every meter placed by hand, and the lens where the sun stands in the
/// picture. Times are good to a tenth of a minute; what shines for less than a minute may be missed.
std::vector<SunOn> direct_sun(const Setup& setup, const Scene& scene, const DayHours& hours);

}  // namespace rushlight
