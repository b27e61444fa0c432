// A sheet as JSON, for other programs.
#pragma once

#include "results/sheet.h"

#include <string>

namespace rushlight {

/// {setup, option, readings: [{name, mark, kind, side, lux, error_lux, stop, kelvin, duv, by_source: {name: lux}}],
///  ratios: [{name, ratio, stops, error_stops}], separations: [{name, stops, error_stops, least}], sources,
///  remarks, seconds, wanted_error, title}; against, changes: [{name, stops, error_stops}] where asked for. `stop` is
///  the T-stop that the meter shows, null without light;
/// what is not a finite number is null. Always valid UTF-8.
std::string json(const Sheet& sheet);

}  // namespace rushlight
