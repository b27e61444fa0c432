// Does the view outside hold, and what would hold it.
#pragma once

#include "paths/work/effort.h"
#include "results/day/day_course.h"

namespace rushlight {

/// At the set-up's own time: the brightest view in stops over the face (key cheek at grey) against the camera's
/// headroom. Where it does not hold, ND on the glass in view is traced anew, as it dims the face too.
ViewHold view_hold(const Setup& setup, const DayCourse& day, const WeatherCourse& course, const Effort& effort);

/// A set-up whose openings named wear another sheet of this density.
Setup with_nd(Setup setup, const std::vector<std::string>& openings, double density);

}  // namespace rushlight
