// A sheet as JSON, for other programs.
#pragma once

#include "results/day/continuity.h"
#include "results/day/day_course.h"
#include "results/sheet/sheet.h"
#include "results/day/shooting_order.h"

#include <string>

namespace rushlight {

/// {setup, option, readings: [{name, mark, kind, side, lux, error_lux, stop, kelvin, duv, by_source: {name: lux}}],
///  ratios: [{name, ratio, stops, error_stops}], separations: [{name, stops, error_stops, least}], sources,
///  remarks, seconds, wanted_error, title}; against, changes: [{name, stops, error_stops}] where asked for. `stop` is
///  the T-stop that the meter shows, null without light;
/// what is not a finite number is null. Always valid UTF-8.
std::string json(const Sheet& sheet);

/// {title, setups: [{setup, option, zone, plan, clock: ["07:00", ...], sun: [{altitude, azimuth}], sun_on: [{what,
/// when:
/// [[from, to]]}], weathers: [{weather, holds, around_plan, meters: [{name, lux, error_lux, kelvin}], faces: [{mark,
/// level, key_fill, view, kelvin and their errors}]}], view: [...]}], orders, mismatches}; times are "hh:mm".
std::string json(const std::vector<DayCourse>& days, const std::vector<ShootingOrder>& orders,
                 const std::vector<Mismatch>& mismatches);

}  // namespace rushlight
