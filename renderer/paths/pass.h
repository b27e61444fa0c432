// One pass over some meters: light paths, looks from them, walks from the meters.
#pragma once

#include "paths/tally.h"

namespace rushlight {

/// Sources, for every group of last surfaces where these are told apart.
std::size_t layer_count(const Scene& scene, const LastSurfaces* apart);

/// Every meter shares the work in a way of its own; those with equally many light paths share these.
PassLight measure_pass(const Scene& scene, const std::vector<MeterPoint>& meters, const std::vector<Sharing>& sharing,
                       std::span<const std::size_t> taking_part, std::uint64_t key, const LastSurfaces* apart);

/// A first look at every meter, so that later rays know what is worth tracing and where bright things lie.
std::vector<MeterPoint> with_expectations(const Scene& scene, std::vector<MeterPoint> meters, std::uint64_t seed,
                                          std::vector<Sharing> sharing, const LastSurfaces* apart);

}  // namespace rushlight
