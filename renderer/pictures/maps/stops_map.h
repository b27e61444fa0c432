// A light map made ready for drawing: stops over a reference at each pixel, NaN where there is nothing.
#pragma once

#include "results/frame/light_map.h"

#include <vector>

namespace rushlight {

struct StopsMap {
    int width = 0, height = 0;
    std::vector<float> value;

    std::size_t at(int x, int y) const {
        return static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x);
    }
};

/// Stops that stand for "no light": under any scale, yet near enough that a mean with a lit neighbour means
/// something.
inline constexpr float no_light_stops = -12;

/// Throws OutputError when the map's layers do not have width * height values.
void check(const LightMap& map);
/// log2(lux / reference).
StopsMap stops_over(const LightMap& map, double reference);
/// `times` as wide and high, values between pixels interpolated.
StopsMap enlarged(const StopsMap& field, int times);
/// Means over boxes of 2 `radius` + 1 pixels, done three times (nearly a bell curve); holes stay holes.
StopsMap smoothed(const StopsMap& field, int radius);

/// Lux of the map's middle pixel when all are put in order, 0 when none has light.
double median_lux(const LightMap& map);
/// Median of error / lux, 0 when not known.
double median_relative_error(const LightMap& map);
/// Mean lux within `radius` pixels of x, y; NaN when most of them have nothing to measure.
double mean_lux(const LightMap& map, int x, int y, int radius);

}  // namespace rushlight
