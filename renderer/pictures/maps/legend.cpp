// The legend of a light map: the whole scale with its numbers, and how much of it this map uses.
#include "pictures/draw/false_colour.h"
#include "pictures/maps/map_parts.h"
#include "pictures/words/numbers.h"
#include "pictures/words/utf8.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace rushlight::map_parts {
namespace {

constexpr double bottom = least_stop - 1, top = most_stop + 1;

int bar_width(const Page& page) {
    return page.letters * 2;
}
int left_numbers(const Page& page) {
    return text_width("stops", page.text()) + 10;
}

// Stops under which 1 % and 99 % of the measured pixels lie.
std::pair<double, double> used_range(const StopsMap& field) {
    std::vector<float> known;
    for (float v : field.value)
        if (!std::isnan(v)) known.push_back(v);
    if (known.empty()) return {0, 0};
    const auto at = [&](double share) {
        const auto place = known.begin() + static_cast<std::ptrdiff_t>(share * static_cast<double>(known.size() - 1));
        std::nth_element(known.begin(), place, known.end());
        return static_cast<double>(*place);
    };
    return {std::clamp(at(0.01), bottom, top), std::clamp(at(0.99), bottom, top)};
}

}  // namespace

std::vector<Notch> notches_of(const LightMap& map, const Reference& reference) {
    std::vector<Notch> all;
    for (const LightMap::Key& k : map.keys) all.push_back({k.mark, std::log2(k.lux / reference.lux)});
    return all;
}

std::string notch_text(const std::vector<Notch>& notches) {
    std::string text;
    for (const Notch& n : notches)
        text += (text.empty() ? " · notch: planned key, " : ", ") + n.mark + " " + stops_text(n.stops);
    return text;
}

Colour clip_mark(int x, int y) {
    return (x / 3 + y / 3) % 2 == 0 ? Colour{1, 1, 1} : Colour{0, 0, 0};
}
Colour floor_mark(int x, int y) {
    return x % 6 < 2 && (y + (x / 6 % 2) * 3) % 6 < 2 ? Colour{0.62F, 0.62F, 0.62F} : Colour{0, 0, 0};
}

int legend_width(const Page& page) {
    return left_numbers(page) + bar_width(page) + text_width(" grey 10 000 lx", page.text()) + page.letters;
}

void draw_legend(Image& image, const Page& page, int x, int y, int height, const StopsMap& field,
                 const Reference& reference, MapUnit unit, const LegendOf& of) {
    const int letters = page.letters, bar = x + left_numbers(page), right = bar + bar_width(page);
    const bool by_stops = unit == MapUnit::stops;
    // Head line of the numbers, then the bar, then what the hatching means.
    const int head = y + letters;
    write_text(image, bar - 8, head, "stops", page.text(Align::right));
    write_text(image, right + 10, head, of.unit, page.text());
    const double from = y + letters * 1.9, to = y + height - letters * 2.4;
    const auto place = [&](double stops) { return to + (stops - bottom) / (top - bottom) * (from - to); };

    for (int row = static_cast<int>(from); row < static_cast<int>(to); ++row) {
        const double stops = bottom + (to - row - 0.5) / (to - from) * (top - bottom);
        fill_box(image, {bar + 0.0, row + 0.0}, {right + 0.0, row + 1.0}, colour_of(stops, unit));
        for (int column = bar; column < right && (stops > of.clip || stops < of.floor); ++column)
            image.set(column, row, stops > of.clip ? clip_mark(column, row) : floor_mark(column, row));
    }
    draw_frame(image, {bar + 0.0, std::floor(from)}, {right + 0.0, std::floor(to)}, {page.ink, 1, 0.6});

    // Planned keys: a notch cut into the bar from the side of the stops, with the first letter of whose it is.
    for (const Notch& n : of.notches) {
        const double at = place(std::clamp(n.stops, bottom, top)), half = letters * 0.34;
        const Point corners[] = {{bar + 0.0, at - half}, {bar + letters * 0.62, at}, {bar + 0.0, at + half}};
        fill_polygon(image, corners, page.paper);
        draw_lines(image, corners, true, {page.ink, 1.4, 1});
        const Lettering letter = lettering_on(image.pixel(bar + letters * 3 / 2, static_cast<int>(at)), letters - 3);
        write_text(image, bar + letters * 3 / 2, static_cast<int>(at) + letters * 30 / 100,
                   utf8(code_points(n.mark).substr(0, 1)), letter);
    }

    // The stretch of the scale that this map uses.
    const auto [low, high] = used_range(field);
    const Pen bracket{page.ink, 2, 0.8};
    const double beside = right + 4.5;
    draw_line(image, {beside, place(low)}, {beside, place(high)}, bracket);

    // Grey, so marked that it is found at a glance.
    const double grey = place(0);
    fill_box(image, {bar - 5.0, grey - 2}, {right + 9.0, grey + 2}, {1, 1, 1});
    fill_box(image, {bar - 5.0, grey - 1}, {right + 9.0, grey + 1}, {0, 0, 0});
    const int drop = letters * 36 / 100;  // from the middle of a figure down to its base line
    const Lettering strong = page.text(Align::left, true);
    const std::string reference_text =
        reference.metered ? "grey " + short_lux_text(reference.lux) : round_lux_text(reference.lux);
    write_text(image, right + 12, static_cast<int>(grey) + drop, reference_text, strong);

    const auto lux_at = [&](double stops, const std::string& text) {
        if (std::abs(place(stops) - grey) < letters * 1.1) return;
        if (!by_stops) draw_line(image, {right + 0.0, place(stops)}, {right + 9.0, place(stops)}, {page.ink, 1, 0.6});
        write_text(image, right + 12, static_cast<int>(place(stops)) + drop, text, page.text());
    };
    for (const double edge : band_edges)
        if (edge != std::round(edge))
            draw_line(image, {bar - 4.0, place(edge)}, {bar + 0.0, place(edge)}, {page.ink, 1, 0.6});
    for (int stops = least_stop; stops <= most_stop; ++stops) {
        const std::string number = stops == 0 ? "0" : (stops > 0 ? "+" : "−") + std::to_string(std::abs(stops));
        write_text(image, bar - 8, static_cast<int>(place(stops)) + drop, number, page.text(Align::right, stops == 0));
        if (by_stops) lux_at(stops, short_lux_text(reference.lux * std::exp2(stops)));
        if (!by_stops) draw_line(image, {bar - 5.0, place(stops)}, {bar + 0.0, place(stops)}, {page.ink, 1, 0.6});
    }
    for (double lux = round_lux(reference.lux * std::exp2(bottom)); !by_stops; lux = next_round_lux(lux)) {
        const double stops = std::log2(lux / reference.lux);
        if (stops > top - 0.1) break;
        if (stops > bottom + 0.1) lux_at(stops, round_lux_text(lux));
    }

    if (std::any_of(field.value.begin(), field.value.end(), [](float v) { return std::isnan(v); })) {
        const int low_y = y + height - letters;
        for (int row = low_y; row < low_y + letters; ++row)
            for (int column = bar; column < right; ++column) {
                const float hatch = (column + row) % 8 < 2 ? 0.66F : 0.76F;
                image.blend(column, row, {hatch, hatch, hatch}, 1);
            }
        write_text(image, right + 12, low_y + letters - 2, "not measured", page.small());
    }
}

}  // namespace rushlight::map_parts
