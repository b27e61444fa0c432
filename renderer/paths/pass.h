// One pass over some meters: light paths, looks from them, walks from the meters.
#pragma once

#include "paths/tally.h"
#include "paths/walk/thrown_light.h"

#include <functional>

namespace rushlight {

/// Numbers that a meter collects: one a source, for each group of last surfaces where these are told apart.
std::size_t layer_count(const Scene& scene, const LastSurfaces* last_surfaces);

/// Returns nothing once `given_up` says so: a pass of very many meters takes long.
/// Every meter shares the work in a way of its own; those with equally many light paths share these.
PassLight measure_pass(const Scene& scene, const std::vector<MeterPoint>& meters, const std::vector<Sharing>& sharing,
                       std::span<const std::size_t> taking_part, std::size_t passes, std::uint64_t stream,
                       const LastSurfaces* last_surfaces, const std::function<bool()>& given_up);

/// A few walks from the lights, before anything is measured. Spots look for themselves: for them alone there are none.
struct FirstWalks {
    LightPaths paths;
    ThrownLight thrown;
};
FirstWalks first_walks(const Scene& scene, const std::vector<MeterPoint>& meters, std::uint64_t seed);

/// A first look at every meter, so that later rays know what is worth tracing and where bright things lie.
std::vector<MeterPoint> with_expectations(const Scene& scene, std::vector<MeterPoint> meters, const FirstWalks& first,
                                          const Effort& effort, std::vector<Sharing> sharing,
                                          const LastSurfaces* last_surfaces);

}  // namespace rushlight
