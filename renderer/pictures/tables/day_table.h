// A day as a listing for people, and as values with commas between.
#pragma once

#include "results/day/continuity.h"
#include "results/day/day_course.h"
#include "results/day/shooting_order.h"

#include <string>

namespace rushlight {

/// One set-up: where the sun falls, each weather's sun window, and its faces hour by hour (every `every` steps).
std::string table(const DayCourse& day);
/// All set-ups of a file together: what does not match, and in which order to shoot.
std::string table(const std::vector<Mismatch>& mismatches, const std::vector<ShootingOrder>& orders);

/// One row for each set-up, weather, time and meter or face (RFC 4180).
std::string comma_separated(const std::vector<DayCourse>& days);

}  // namespace rushlight
