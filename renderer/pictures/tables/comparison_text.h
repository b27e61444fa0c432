// Options side by side as a listing for people and as JSON.
#pragma once

#include "results/compare/comparison.h"

#include <string>

namespace rushlight {

std::string text(const Comparison& comparison);
/// {title, setup, against, options: [{option, numbers: [{name, said, stops, error_stops, difference, error_difference,
/// beyond_noise}]}], remarks}. The first option has no differences.
std::string json(const Comparison& comparison);

}  // namespace rushlight
