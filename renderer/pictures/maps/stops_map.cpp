#include "pictures/maps/stops_map.h"

#include "pictures/files/write_file.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace rushlight {
namespace {

constexpr float nothing = std::numeric_limits<float>::quiet_NaN();

double median(std::vector<double>& values) {
    if (values.empty()) return 0;
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

// Means along one line of the map, its values `step` apart. Near an end the stretch is shorter on both sides,
// so that an even rise stays as it is up to the edge.
void smooth_line(const float* from, float* to, int count, std::size_t step, int radius) {
    std::vector<double> sum(static_cast<std::size_t>(count) + 1);
    std::vector<int> known(sum.size());
    for (std::size_t i = 0; i + 1 < sum.size(); ++i) {
        const float v = from[i * step];
        sum[i + 1] = sum[i] + (std::isnan(v) ? 0.0 : static_cast<double>(v));
        known[i + 1] = known[i] + (std::isnan(v) ? 0 : 1);
    }
    for (int i = 0; i < count; ++i) {
        const int reach = std::min({radius, i, count - 1 - i});
        const auto first = static_cast<std::size_t>(i - reach), last = static_cast<std::size_t>(i + reach) + 1;
        const std::size_t here = static_cast<std::size_t>(i) * step;
        to[here] = std::isnan(from[here]) ? nothing
                                          : static_cast<float>((sum[last] - sum[first]) / (known[last] - known[first]));
    }
}

// The value at pixel x, y of a map `times` as large: along the rise between the four nearest values, which is
// also followed over the edge of the map. Beside a hole only the values that are there count.
float between(const StopsMap& field, int x, int y, int times) {
    if (std::isnan(field.value[field.at(x / times, y / times)])) return nothing;
    const double from_x = (x + 0.5) / times - 0.5, from_y = (y + 0.5) / times - 0.5;
    const int x0 = std::clamp(static_cast<int>(std::floor(from_x)), 0, std::max(field.width - 2, 0));
    const int y0 = std::clamp(static_cast<int>(std::floor(from_y)), 0, std::max(field.height - 2, 0));
    const int x1 = std::min(x0 + 1, field.width - 1), y1 = std::min(y0 + 1, field.height - 1);
    const float corners[4] = {field.value[field.at(x0, y0)], field.value[field.at(x1, y0)],
                              field.value[field.at(x0, y1)], field.value[field.at(x1, y1)]};
    double across = from_x - x0, down = from_y - y0;
    if (std::any_of(corners, corners + 4, [](float v) { return std::isnan(v); }))
        across = std::clamp(across, 0.0, 1.0), down = std::clamp(down, 0.0, 1.0);
    const double shares[4] = {(1 - across) * (1 - down), across * (1 - down), (1 - across) * down, across * down};
    double sum = 0, weight = 0;
    for (int i = 0; i < 4; ++i)
        if (!std::isnan(corners[i])) sum += shares[i] * static_cast<double>(corners[i]), weight += shares[i];
    return weight > 0 ? static_cast<float>(sum / weight) : nothing;
}

}  // namespace

void check(const LightMap& map) {
    if (map.width <= 0 || map.height <= 0) throw OutputError("cannot draw a light map without pixels");
    const auto pixels = static_cast<std::size_t>(map.width) * static_cast<std::size_t>(map.height);
    const auto fits = [&](const std::vector<float>& layer, bool may_be_empty) {
        return layer.size() == pixels || (may_be_empty && layer.empty());
    };
    if (!map.thing.empty() && map.thing.size() != pixels) throw OutputError("cannot draw a light map with holes");
    if (!fits(map.lux, false) || !fits(map.calm, true) || !fits(map.error, true) || !fits(map.shade, true))
        throw OutputError("cannot draw a light map of " + std::to_string(map.width) + " x " +
                          std::to_string(map.height) + " pixels with " + std::to_string(map.lux.size()) + " lux, " +
                          std::to_string(map.error.size()) + " error and " + std::to_string(map.shade.size()) +
                          " shade values");
}

StopsMap stops_over(const LightMap& map, double reference) {
    StopsMap field{map.width, map.height, std::vector<float>(map.lux.size())};
    for (std::size_t i = 0; i < map.lux.size(); ++i) {
        const double lux = map.calm.empty() ? map.lux[i] : map.calm[i];
        field.value[i] = !std::isfinite(lux) ? nothing
                         : lux <= 0          ? no_light_stops
                                             : std::max(static_cast<float>(std::log2(lux / reference)), no_light_stops);
    }
    return field;
}

StopsMap enlarged(const StopsMap& field, int times) {
    if (times <= 1) return field;
    StopsMap out{field.width * times, field.height * times, {}};
    out.value.resize(field.value.size() * static_cast<std::size_t>(times) * static_cast<std::size_t>(times));
    for (int y = 0; y < out.height; ++y)
        for (int x = 0; x < out.width; ++x) out.value[out.at(x, y)] = between(field, x, y, times);
    return out;
}

StopsMap smoothed(const StopsMap& field, int radius) {
    if (radius <= 0) return field;
    StopsMap out = field, between = field;
    for (int round = 0; round < 3; ++round) {
        for (int y = 0; y < out.height; ++y)
            smooth_line(&out.value[out.at(0, y)], &between.value[out.at(0, y)], out.width, 1, radius);
        for (int x = 0; x < out.width; ++x)
            smooth_line(&between.value[out.at(x, 0)], &out.value[out.at(x, 0)], out.height,
                        static_cast<std::size_t>(out.width), radius);
    }
    return out;
}

double median_lux(const LightMap& map) {
    std::vector<double> lit;
    for (float v : map.lux)
        if (std::isfinite(v) && v > 0) lit.push_back(v);
    return median(lit);
}

double median_relative_error(const LightMap& map) {
    std::vector<double> relative;
    for (std::size_t i = 0; i < std::min(map.lux.size(), map.error.size()); ++i)
        if (std::isfinite(map.lux[i]) && std::isfinite(map.error[i]) && map.lux[i] > 0)
            relative.push_back(static_cast<double>(map.error[i]) / static_cast<double>(map.lux[i]));
    return median(relative);
}

double mean_lux(const LightMap& map, int x, int y, int radius) {
    double sum = 0;
    int known = 0, all = 0;
    for (int sy = std::max(0, y - radius); sy <= std::min(map.height - 1, y + radius); ++sy)
        for (int sx = std::max(0, x - radius); sx <= std::min(map.width - 1, x + radius); ++sx) {
            ++all;
            const double lux = map.lux[map.at(sx, sy)];
            if (std::isfinite(lux)) sum += lux, ++known;
        }
    return 2 * known > all ? sum / known : std::numeric_limits<double>::quiet_NaN();
}

}  // namespace rushlight
