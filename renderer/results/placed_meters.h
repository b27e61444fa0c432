// The meters that a set-up is judged by: four on every face, and those placed by hand.
#pragma once

#include "paths/camera_paths.h"
#include "results/sheet.h"
#include "setup/setup.h"

#include <vector>

namespace rushlight {

struct PlacedMeter {
    Reading reading;  // name, mark and kind filled in
    MeterPoint point;
};

/// For every mark in turn its near cheek, far cheek, front and dome to lens; then the meters placed by hand.
std::vector<PlacedMeter> place_meters(const Setup& setup, const Scene& scene);
inline constexpr std::size_t meters_a_face = 4;

}  // namespace rushlight
