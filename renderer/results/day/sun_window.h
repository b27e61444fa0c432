// From when to when a set-up stays as it was planned.
#pragma once

#include "results/day/day_course.h"

namespace rushlight {

/// Fills `off`, `holds`, `around_plan` and `first_to_go`: times at which, on every face in frame (on all faces where
/// none is), the dome to lens and the key over the fill lie within a third of a stop of the plan's, and the dome's
/// colour within 200 K of it. Between hours the numbers are taken to run straight, but for the minute when the sun
/// comes or goes.
void find_sun_windows(const DayCourse& day, WeatherCourse& course);

}  // namespace rushlight
