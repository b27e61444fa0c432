// Lines of equal light, and the numbers along them.
#include "pictures/draw/false_colour.h"
#include "pictures/maps/map_parts.h"
#include "pictures/words/numbers.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace rushlight::map_parts {
namespace {

std::pair<double, double> range_of(const StopsMap& field) {
    double low = 0, high = 0;
    bool any = false;
    for (float v : field.value) {
        if (std::isnan(v)) continue;
        low = any ? std::min(low, static_cast<double>(v)) : v;
        high = any ? std::max(high, static_cast<double>(v)) : v;
        any = true;
    }
    return {low, high};
}

// Change of the field across a pixel at x, y; NaN beside a hole.
double slope(const StopsMap& field, int x, int y) {
    const auto value = [&](int sx, int sy) -> double {
        return field.value[field.at(std::clamp(sx, 0, field.width - 1), std::clamp(sy, 0, field.height - 1))];
    };
    return std::hypot((value(x + 1, y) - value(x - 1, y)) / 2, (value(x, y + 1) - value(x, y - 1)) / 2);
}

// Pixels that a line passes through: the field crosses `stops` to the right or below.
std::vector<std::pair<int, int>> along(const StopsMap& field, double stops) {
    std::vector<std::pair<int, int>> pixels;
    for (int y = 0; y + 1 < field.height; ++y)
        for (int x = 0; x + 1 < field.width; ++x) {
            const double here = field.value[field.at(x, y)] - stops;
            const double right = field.value[field.at(x + 1, y)] - stops;
            const double below = field.value[field.at(x, y + 1)] - stops;
            const auto crossed = [&](double there) { return (here < 0 && there >= 0) || (here >= 0 && there < 0); };
            if (crossed(right) || crossed(below)) pixels.emplace_back(x, y);
        }
    return pixels;
}

/// Pixels at or beside those lines of that value which are long enough to tell anything: chance draws the short ones.
std::vector<char> beside_long_lines(const StopsMap& field, double stops, int beside) {
    constexpr std::size_t least = 24;                // pixels
    std::vector<char> state(field.value.size(), 0);  // 1: on a line
    for (const auto& [x, y] : along(field, stops)) state[field.at(x, y)] = 1;
    std::vector<char> near(field.value.size(), 0);
    std::vector<std::pair<int, int>> line;
    for (int y0 = 0; y0 < field.height; ++y0)
        for (int x0 = 0; x0 < field.width; ++x0) {
            if (state[field.at(x0, y0)] != 1) continue;
            line.assign(1, {x0, y0});
            state[field.at(x0, y0)] = 2;
            for (std::size_t i = 0; i < line.size(); ++i)
                for (int y = std::max(0, line[i].second - 2); y <= std::min(field.height - 1, line[i].second + 2); ++y)
                    for (int x = std::max(0, line[i].first - 2); x <= std::min(field.width - 1, line[i].first + 2); ++x)
                        if (char& s = state[field.at(x, y)]; s == 1) s = 2, line.emplace_back(x, y);
            if (line.size() < least) continue;
            for (const auto& [lx, ly] : line)
                for (int y = std::max(0, ly - beside); y <= std::min(field.height - 1, ly + beside); ++y)
                    for (int x = std::max(0, lx - beside); x <= std::min(field.width - 1, lx + beside); ++x)
                        near[field.at(x, y)] = 1;
        }
    return near;
}

}  // namespace

std::vector<Contour> contours_of(const StopsMap& field, const Reference& reference, MapUnit unit) {
    const auto [low, high] = range_of(field);
    std::vector<Contour> contours;
    if (unit == MapUnit::stops) {
        for (int stops = least_stop; stops <= most_stop; ++stops)
            if (stops > low && stops < high)
                contours.push_back({static_cast<double>(stops), stops == 0 ? "0" : stops_text(stops), stops == 0});
        for (Contour& c : contours)
            if (c.label.size() > 2 && c.label.ends_with(".0")) c.label.erase(c.label.size() - 2);
        return contours;
    }
    const double least = std::max(reference.lux * std::exp2(std::max(low, least_stop - 3.0)), 0.01);
    for (double lux = round_lux(least); lux < reference.lux * std::exp2(std::min(high, most_stop + 3.0));
         lux = next_round_lux(lux))
        if (lux > least) contours.push_back({std::log2(lux / reference.lux), round_lux_text(lux), false});
    if (reference.metered && low < 0 && high > 0)
        contours.push_back({0, "grey " + short_lux_text(reference.lux), true});
    return contours;
}

void draw_contour(Image& image, const StopsMap& field, double stops, double width, const Colour& colour, double cover) {
    const std::vector<char> near = beside_long_lines(field, stops, static_cast<int>(width) + 2);
    for (int y = 0; y < field.height; ++y)
        for (int x = 0; x < field.width; ++x) {
            if (near[field.at(x, y)] == 0) continue;
            const double off = std::abs(static_cast<double>(field.value[field.at(x, y)]) - stops);
            const double steep = slope(field, x, y);
            if (!(steep > 0) || !(off < steep * (width / 2 + 1))) continue;
            image.blend(x, y, colour, static_cast<float>(cover * std::clamp(width / 2 + 0.5 - off / steep, 0.0, 1.0)));
        }
}

void label_contours(Image& image, const StopsMap& field, const std::vector<Contour>& contours, int size,
                    std::vector<PixelBox>& taken) {
    for (const Contour& contour : contours) {
        auto pixels = along(field, contour.stops);
        const std::vector<char> on_long = beside_long_lines(field, contour.stops, 0);
        std::erase_if(pixels, [&](const auto& p) { return on_long[field.at(p.first, p.second)] == 0; });
        if (pixels.size() < static_cast<std::size_t>(3 * size)) continue;  // a speck is not worth a number
        const int wanted = pixels.size() > static_cast<std::size_t>(3 * field.width / 2) ? 2 : 1;
        int written = 0;
        PixelBox before{};  // the last number on this line
        // Try places spread along the line: a third, two thirds, then between.
        for (int attempt = 0; attempt < 48 && written < wanted; ++attempt) {
            const double share = std::fmod(0.33 + 0.381966 * attempt, 1.0);
            const auto [x, y] = pixels[static_cast<std::size_t>(share * static_cast<double>(pixels.size() - 1))];
            Lettering how = lettering_on(smooth_colour(contour.stops), size);
            how.bold = contour.strong;
            const int base = y + size * 36 / 100;
            const PixelBox box = text_box(x, base, contour.label, how);
            const bool outside = box.x0 < 0 || box.y0 < 0 || box.x1 > image.width || box.y1 > image.height;
            const bool crowded =
                std::any_of(taken.begin(), taken.end(), [&](const PixelBox& t) { return t.touches(box); });
            const int reach = field.width / 4;
            const bool near =
                written > 0 && std::abs(box.x0 - before.x0) < reach && std::abs(box.y0 - before.y0) < reach;
            if (outside || crowded || near) continue;
            before = box;
            write_text(image, x, base, contour.label, how);
            taken.push_back({box.x0 - size, box.y0 - size / 2, box.x1 + size, box.y1 + size / 2});
            ++written;
        }
    }
}

}  // namespace rushlight::map_parts
