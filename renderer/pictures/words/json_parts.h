// Results as parts of a larger JSON: what json.h writes out whole.
#pragma once

#include "pictures/words/json_value.h"
#include "results/compare/match.h"
#include "results/day/continuity.h"
#include "results/day/day_course.h"
#include "results/day/shooting_order.h"
#include "results/sheet/sheet.h"

#include <vector>

namespace rushlight {

JsonValue json_of(const Sheet& sheet);
JsonValue json_of(const DayCourse& day);
JsonValue json_of(const std::vector<ShootingOrder>& orders);
JsonValue json_of(const std::vector<Mismatch>& mismatches);
JsonValue json_of(const Match& match);

}  // namespace rushlight
