// A set-up through a day: what its meters read, how long it stays as planned, where the sun falls.
#pragma once

#include "paths/work/effort.h"
#include "results/day/day_course.h"

#include <vector>

namespace rushlight {

DayCourse take_day(const Setup& setup, const DayHours& hours, const std::vector<Weather>& weathers,
                   const Effort& effort);

}  // namespace rushlight
