#include "pictures/frames/sphere_picture.h"

#include "pictures/draw/drawing.h"
#include "pictures/draw/false_colour.h"
#include "pictures/draw/lettering.h"
#include "pictures/maps/map_parts.h"
#include "pictures/maps/stops_map.h"
#include "pictures/words/numbers.h"
#include "quantity/units.h"
#include "scene/rays/rectangle.h"

#include <algorithm>
#include <cmath>

namespace rushlight {
namespace {

constexpr int disc = 760, margin = 30, letters = 16, head = 92, column = 430;

struct Page {
    Image image;
    Colour ink{0.13F, 0.13F, 0.14F}, faint{0.42F, 0.42F, 0.43F};
    Lettering text(Align align = Align::left, bool bold = false) const { return {letters, bold, align, ink, {}}; }
    Lettering small(Align align = Align::left) const { return {letters - 2, false, align, faint, {}}; }
};

StopsMap stops_of(const Sphere& s, double even) {
    StopsMap map{s.side, s.side, {}};
    for (const float l : s.calm.empty() ? s.luminance : s.calm) {
        const double stops = std::log2(static_cast<double>(l) / even);
        map.value.push_back(std::isnan(l) ? l
                                          : static_cast<float>(std::max(stops, static_cast<double>(no_light_stops))));
    }
    return map;
}

void draw_disc(Page& page, const Sphere& s, double even) {
    const StopsMap map = stops_of(s, even);
    for (int y = 0; y < disc; ++y)
        for (int x = 0; x < disc; ++x) {
            const double u = (x + 0.5) / disc * 2 - 1, v = (y + 0.5) / disc * 2 - 1, r = std::sqrt(u * u + v * v);
            if (r >= 1) continue;
            // Between pixels, as long as both are there.
            const double sx = (x + 0.5) / disc * s.side - 0.5, sy = (y + 0.5) / disc * s.side - 0.5;
            const int x0 = static_cast<int>(std::floor(sx)), y0 = static_cast<int>(std::floor(sy));
            double sum = 0, weights = 0;
            for (int j = 0; j < 2; ++j)
                for (int i = 0; i < 2; ++i) {
                    const int px = x0 + i, py = y0 + j;
                    if (px < 0 || py < 0 || px >= s.side || py >= s.side) continue;
                    const float value = map.value[map.at(px, py)];
                    const double w = (i ? sx - x0 : 1 - sx + x0) * (j ? sy - y0 : 1 - sy + y0);
                    if (std::isnan(value) || w <= 0) continue;
                    sum += w * static_cast<double>(value);
                    weights += w;
                }
            if (weights <= 0) continue;
            page.image.blend(margin + x, head + y, smooth_colour(sum / weights),
                             static_cast<float>(std::clamp((1 - r) * disc / 2, 0.0, 1.0)));
        }
}

/// Rings about the way the meter faces, at 30 and 60 degrees for a flat one, at 45, 90 and 135 for a dome, with what
/// the meter makes of light from there.
void draw_rings(Page& page, const Sphere& s, std::vector<PixelBox>& taken) {
    const Point middle{margin + disc / 2.0, head + disc / 2.0};
    for (const int angle : s.whole ? std::vector<int>{45, 90, 135} : std::vector<int>{30, 60}) {
        const double r =
            s.whole ? std::sin(radians(Degree{angle / 2.0})) : std::sqrt(1 - std::cos(radians(Degree{angle * 1.0})));
        std::vector<Point> ring;
        for (int i = 0; i < 180; ++i)
            ring.push_back(
                {middle.x + r * disc / 2 * std::cos(i * pi / 90), middle.y + r * disc / 2 * std::sin(i * pi / 90)});
        draw_lines(page.image, ring, true, {{1, 1, 1}, 1.2, 0.45});
        const double counts =
            s.whole ? (1 + std::cos(radians(Degree{angle * 1.0}))) / 2 : std::cos(radians(Degree{angle * 1.0}));
        Lettering label{letters - 4, false, Align::middle, {0.92F, 0.92F, 0.92F}, Colour{0.15F, 0.15F, 0.15F}};
        taken.push_back(write_text(page.image, static_cast<int>(middle.x),
                                   static_cast<int>(middle.y + r * disc / 2) - 4,
                                   std::to_string(angle) + "°: counts " + percent_text(counts), label));
    }
}

void draw_panels(Page& page, const Sphere& s, std::span<const BestPlace> places, std::vector<PixelBox>& taken) {
    for (const BestPlace& b : places) {
        const Rectangle r = facing_rectangle(b.panel.at, b.panel.facing, b.panel.roll, b.panel.width, b.panel.height);
        std::vector<Point> outline;
        for (int side = 0; side < 4; ++side)
            for (int i = 0; i < 24; ++i) {
                const float t = static_cast<float>(i) / 24;
                const Vec3 p = side == 0   ? r.at(t, 0)
                               : side == 1 ? r.at(1, t)
                               : side == 2 ? r.at(1 - t, 1)
                                           : r.at(0, 1 - t);
                double x = 0, y = 0;
                if (!s.project((p - s.at).normalized(), x, y)) continue;
                outline.push_back({margin + x / s.side * disc, head + y / s.side * disc});
            }
        if (outline.size() < 3) continue;
        draw_lines(page.image, outline, true, {{0, 0, 0}, 5, 0.8});
        draw_lines(page.image, outline, true, {{1, 1, 1}, 2, 1});
        // Its name just inside its upper edge.
        const Point top =
            *std::min_element(outline.begin(), outline.end(), [](const Point& p, const Point& q) { return p.y < q.y; });
        taken.push_back(write_text(page.image, static_cast<int>(top.x), static_cast<int>(top.y) + letters + 8,
                                   b.wish.black ? "black" : "white",
                                   {letters, true, Align::middle, {1, 1, 1}, Colour{0, 0, 0}}));
    }
}

/// Names at the middle of the light of the strongest surfaces, clear of each other and of the rings' numbers.
void label_surfaces(Page& page, const Origins& o, const Sphere& s, const LastSurfaces& surfaces,
                    std::vector<PixelBox>& taken) {
    struct Middle {
        double x = 0, y = 0, light = 0;
    };
    std::vector<Middle> middles(surfaces.names.size());
    for (std::size_t p = 0; p < s.pixels(); ++p) {
        if (!(s.weight[p] > 0)) continue;
        Middle& m = middles[s.group[p]];
        const double light = static_cast<double>(s.weight[p]) * std::max(1e-6, static_cast<double>(s.luminance[p]));
        m.x += light * (static_cast<double>(p % static_cast<std::size_t>(s.side)) + 0.5);
        m.y += light * (static_cast<double>(p / static_cast<std::size_t>(s.side)) + 0.5);
        m.light += light;
    }
    int shown = 0;
    for (const Origin& origin : o.surfaces) {
        const auto at = std::find(surfaces.names.begin(), surfaces.names.end(), origin.name);
        if (shown >= 9 || at == surfaces.names.end() || origin.lux.value < 0.01 * o.lux.value) break;
        const Middle& m = middles[static_cast<std::size_t>(at - surfaces.names.begin())];
        if (!(m.light > 0)) continue;
        const int x = static_cast<int>(margin + m.x / m.light / s.side * disc);
        int y = static_cast<int>(head + m.y / m.light / s.side * disc);
        const Lettering label{letters - 1, false, Align::middle, {1, 1, 1}, Colour{0.05F, 0.05F, 0.05F}};
        const std::string text = origin.name + " " + percent_text(origin.lux.value / o.lux.value);
        for (int move = 0; move < 4; ++move, y += letters + 4) {
            const PixelBox box = text_box(x, y, text, label);
            if (std::any_of(taken.begin(), taken.end(), [&](const PixelBox& b) { return b.touches(box); })) continue;
            taken.push_back(write_text(page.image, x, y, text, label));
            ++shown;
            break;
        }
    }
}

void draw_legend(Page& page, int x, int y, int height, double even) {
    const int bar = x + 52, right = bar + 26;
    const auto place = [&](double stops) {
        return y + height - (stops - least_stop) / (most_stop - least_stop) * height;
    };
    for (int row = y; row < y + height; ++row)
        fill_box(page.image, {bar + 0.0, row + 0.0}, {right + 0.0, row + 1.0},
                 smooth_colour(least_stop + (y + height - row - 0.5) / height * (most_stop - least_stop)));
    draw_frame(page.image, {bar + 0.0, y + 0.0}, {right + 0.0, y + height + 0.0}, {page.ink, 1, 0.6});
    write_text(page.image, bar - 8, y - 14, "stops", page.text(Align::right));
    write_text(page.image, right + 10, y - 14, "cd/m2", page.text());
    for (int stops = least_stop; stops <= most_stop; ++stops) {
        const int line = static_cast<int>(place(stops)) + letters * 36 / 100;
        write_text(page.image, bar - 8, line,
                   stops == 0 ? "0" : (stops > 0 ? "+" : "−") + std::to_string(std::abs(stops)),
                   page.text(Align::right, stops == 0));
        write_text(page.image, right + 10, line, short_lux_text(even * std::exp2(stops)),
                   page.text(Align::left, stops == 0));
    }
}

}  // namespace

Image sphere_picture(const Origins& o, const Sphere& s, const LastSurfaces& surfaces,
                     std::span<const BestPlace> places) {
    Page page{Image(margin * 3 + disc + column, head + disc + 74, {0.955F, 0.955F, 0.95F})};
    const double even = std::max(1e-6, o.lux.value / (s.whole ? 2 * pi : pi));
    std::string whose = o.setup;
    if (o.option != as_found_name) whose += " · " + o.option;
    write_text(
        page.image, margin, 34,
        fitted("What lights " + o.point + " · " + whose, page.image.width - 2 * margin, page.text(Align::left, true)),
        {letters + 4, true, Align::left, page.ink, {}});
    write_text(
        page.image, margin, 62,
        std::string(s.whole ? "All round, as a dome sees it" : "The half of the room that a flat meter here sees") +
            ": equal areas on the disc are equal areas to the eye.",
        page.small());
    draw_disc(page, s, even);
    std::vector<PixelBox> taken;
    draw_rings(page, s, taken);
    draw_panels(page, s, places, taken);
    label_surfaces(page, o, s, surfaces, taken);
    write_text(page.image, margin, head + disc + 30,
               "Up is up; left is your left as you look the way the meter faces. 0 stops: an even surround of " +
                   short_lux_text(even) + " cd/m2 would give the same reading.",
               page.small());
    write_text(page.image, margin, head + disc + 54,
               s.calm.empty() ? "Noise of a pixel about " + fixed(100 * s.noise, 0) +
                                    " %; the numbers at the right are more accurate."
                              : std::string("Colours are smoothed; the numbers at the right are as traced."),
               page.small());

    const int x = margin * 2 + disc;
    int y = head + 10;
    const auto line = [&](const std::string& name, const std::string& value, bool bold) {
        write_text(page.image, x, y, fitted(name, column - 120, page.text(Align::left, bold)),
                   page.text(Align::left, bold));
        write_text(page.image, x + column, y, value, page.text(Align::right, bold));
        y += letters + 8;
    };
    line(o.point, lux_text(o.lux.value) + " lx   " + t_stop_text(o.t_stop), true);
    y += 6;
    for (std::size_t i = 0; i < o.surfaces.size() && i < 10 && o.surfaces[i].lux.value > 0.005 * o.lux.value; ++i)
        line(o.surfaces[i].name, percent_text(o.surfaces[i].lux.value / o.lux.value), false);
    for (const BestPlace& b : places) {
        y += 6;
        line(std::string(b.wish.black ? "Black " : "White ") + fixed(b.wish.width, 1) + " x " +
                 fixed(b.wish.height, 1) + " m, " + fixed(b.distance, 2) + " m off",
             stops_text(b.traced.value) + " stops", true);
    }
    draw_legend(page, x + 60, y + 44, std::max(200, head + disc - y - 60), even);
    return page.image;
}

}  // namespace rushlight
