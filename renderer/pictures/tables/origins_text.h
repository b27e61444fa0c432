// The origins of the light at a point, as a listing for people and as JSON.
#pragma once

#include "results/compare/best_place.h"
#include "results/compare/origins.h"

#include <span>
#include <string>

namespace rushlight {

std::string text(const Origins& origins, std::span<const BestPlace> places);
/// {title, setup, option, point, lux, error_lux, stop, by_source: [{name, lux, error_lux, share, stops}], surfaces:
/// the same and by_source: {name: lux}, places: [{panel, size, at, facing, distance, covered, estimate_stops,
/// even_bound_stops, stops, error_stops}], remarks, seconds}. `stops` of a source or a surface is what the reading
/// would lose without it.
std::string json(const Origins& origins, std::span<const BestPlace> places);

}  // namespace rushlight
