// A set-up's day as one picture: a column for each face in frame, a row for each question, the clock below.
#pragma once

#include "pictures/draw/image.h"
#include "results/day/day_course.h"

namespace rushlight {

/// Weathers are told apart by darkness and by dashes, so that they read in grey and without colour vision.
Image day_plot(const DayCourse& day);

}  // namespace rushlight
