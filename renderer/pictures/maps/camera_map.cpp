// The light map of what a camera sees.
#include "pictures/draw/perceived.h"
#include "pictures/maps/map_parts.h"
#include "pictures/words/numbers.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace rushlight::map_parts {
namespace {

constexpr int least_width = 720;  // pixels of the map itself, so that numbers have room
constexpr int numbers_across = 5, numbers_down = 3;

// The plain shade picture shows through as relief: where it is even the colour is exactly that of the
// legend, and only at its edges and folds the colour is a little lighter or darker.
void lay_relief(Image& image, const LightMap& map, int times) {
    if (map.shade.empty()) return;
    const StopsMap shade = enlarged({map.width, map.height, map.shade}, times);
    const StopsMap even = smoothed(shade, std::max(2, shade.width / 200));
    for (int y = 0; y < image.height; ++y)
        for (int x = 0; x < image.width; ++x) {
            const double here = shade.value[shade.at(x, y)], around = even.value[even.at(x, y)];
            if (std::isnan(here) || std::isnan(around)) continue;
            const double relief = std::pow((std::max(here, 0.0) + 0.15) / (std::max(around, 0.0) + 0.15), 0.35);
            const auto k = static_cast<float>(std::clamp(relief, 0.87, 1.13));
            Colour c = image.pixel(x, y);
            for (float& v : c) v = std::min(v * k, 1.0F);
            image.set(x, y, c);
        }
}

void print_numbers(Image& image, const LightMap& map, int times, const Reference& reference, MapUnit unit, int size,
                   std::vector<PixelBox>& taken) {
    const int radius = std::max(1, map.width / 240);
    for (int j = 0; j < numbers_down; ++j)
        for (int i = 0; i < numbers_across; ++i) {
            const int x = (2 * i + 1) * map.width / (2 * numbers_across);
            const int y = (2 * j + 1) * map.height / (2 * numbers_down);
            const double lux = mean_lux(map, x, y, radius);
            if (!std::isfinite(lux)) continue;
            const Point spot{(x + 0.5) * times, (y + 0.5) * times};
            const Lettering how = lettering_on(image.pixel(x * times, y * times), size);
            draw_cross(image, spot, size * 0.38, {*how.halo, 3, 0.7});
            draw_cross(image, spot, size * 0.38, {how.ink, 1, 1});
            const PixelBox box = write_text(image, static_cast<int>(spot.x), static_cast<int>(spot.y - size * 0.6),
                                            number_text(lux, reference, unit), how);
            taken.push_back({box.x0, box.y0, box.x1, static_cast<int>(spot.y + size * 0.5)});
        }
}

// People, furniture and windows as lines over the colours, so that one sees whose light it is.
void outline_things(Image& image, const LightMap& map, int times) {
    if (map.thing.empty()) return;
    const auto drawn = [&](int x, int y) {
        return map
            .things[map.thing[map.at(std::min(x, image.width - 1) / times, std::min(y, image.height - 1) / times)]]
            .drawn;
    };
    const auto thing = [&](int x, int y) {
        return map.thing[map.at(std::min(x, image.width - 1) / times, std::min(y, image.height - 1) / times)];
    };
    for (int y = 0; y < image.height; ++y)
        for (int x = 0; x < image.width; ++x)
            for (const auto& [i, j] : {std::pair{1, 0}, {0, 1}})
                if (thing(x, y) != thing(x + i, y + j) && (drawn(x, y) || drawn(x + i, y + j))) {
                    const bool dark = lab_of_display(image.pixel(x, y)).l < 45;
                    image.blend(x, y, dark ? Colour{1, 1, 1} : Colour{0, 0, 0}, 0.55F);
                    break;
                }
}

// Names of what is large enough to carry one, clear of the numbers.
void name_things(Image& image, const LightMap& map, int times, int size, std::vector<PixelBox>& taken) {
    struct Seen {
        std::size_t pixels = 0;
        double x = 0, y = 0;
    };
    std::vector<Seen> seen(map.things.size());
    for (int y = 0; y < map.height && !map.thing.empty(); ++y)
        for (int x = 0; x < map.width; ++x) {
            Seen& s = seen[map.thing[map.at(x, y)]];
            ++s.pixels, s.x += x, s.y += y;
        }
    for (std::size_t t = 0; t < seen.size(); ++t) {
        const Seen& s = seen[t];
        if (map.things[t].name.empty() || 250 * s.pixels < map.lux.size()) continue;
        const int x = static_cast<int>((s.x / static_cast<double>(s.pixels) + 0.5) * times);
        const int y = static_cast<int>((s.y / static_cast<double>(s.pixels) + 0.5) * times);
        Lettering how = lettering_on(image.pixel(x, y), size - 2);
        how.bold = true;
        for (const int off : {0, 2 * size, -2 * size, 4 * size, -4 * size}) {
            const PixelBox box = text_box(x, y + off, map.things[t].name, how);
            const bool outside = box.x0 < 0 || box.y0 < 0 || box.x1 > image.width || box.y1 > image.height;
            if (outside || std::any_of(taken.begin(), taken.end(), [&](const PixelBox& o) { return o.touches(box); }))
                continue;
            taken.push_back(write_text(image, x, y + off, map.things[t].name, how));
            break;
        }
    }
}

}  // namespace

Image camera_map(const LightMap& map, MapUnit unit) {
    const Reference reference = reference_of(map);
    const int times = std::max(1, (least_width + map.width - 1) / map.width);
    const StopsMap field = enlarged(stops_over(map, reference.lux), times);
    const Page page = page_for(field.height);

    Image colours = coloured(field, unit);
    lay_relief(colours, map, times);
    if (reference.metered) {
        const StopsMap calm = map.calm.empty() ? smoothed(field, std::max(1, field.width / 320)) : smoothed(field, 1);
        draw_contour(colours, calm, 0, 3, {1, 1, 1}, 0.75);
        draw_contour(colours, calm, 0, 1.2, {0, 0, 0}, 1);
    }
    outline_things(colours, map, times);
    std::vector<PixelBox> taken;
    print_numbers(colours, map, times, reference, unit, page.letters, taken);
    name_things(colours, map, times, page.letters, taken);

    const int head = title_height(page, map), legend = legend_width(page);
    const int area = std::max(field.height, page.letters * 22);  // the legend's numbers need that much
    Image image(field.width + 3 * page.margin + legend, head + area + page.margin, page.paper);
    draw_title(image, page, page.margin, image.width - 2 * page.margin, map, reference, unit);
    paste(image, colours, page.margin, head);
    draw_legend(image, page, 2 * page.margin + field.width, head, area, field, reference, unit,
                {"lux", -100, 100, notches_of(map, reference)});
    return image;
}

}  // namespace rushlight::map_parts
