// The light map of a level plane, as a plan to scale.
#include "pictures/draw/perceived.h"
#include "pictures/maps/map_parts.h"
#include "pictures/words/numbers.h"

#include <algorithm>
#include <cmath>

namespace rushlight::map_parts {
namespace {

constexpr int least_side = 640;  // pixels of the longer side, so that signs and numbers have room

// Metres between numbers on the edges, so that they do not crowd.
double step_for(double metres, double pixels_per_metre, int letters) {
    for (double step : {0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0})
        if (step * pixels_per_metre > 3.5 * letters && metres / step < 40) return step;
    return 100;
}

std::string metres_text(double m, double step) {
    return (m < 0 ? "−" : "") + fixed(std::abs(m), step < 1 ? 1 : 0);
}

// Numbers in metres along the left and the lower edge.
void draw_edges(Image& image, const Page& page, const LightMap& map, Point least, Point most, double scale) {
    const double step = step_for(std::max(map.width, map.height) * map.metres_per_pixel, scale, page.letters);
    const Pen tick{page.ink, 1, 0.8};
    const auto first = [&](double from) { return std::ceil(from / step - 1e-6) * step; };
    const double wide = (most.x - least.x) / scale, high = (most.y - least.y) / scale;
    for (double m = first(map.origin_x); m < map.origin_x + wide + 1e-6; m += step) {
        const double x = least.x + (m - map.origin_x) * scale;
        draw_line(image, {x, most.y}, {x, most.y + 5}, tick);
        write_text(image, static_cast<int>(x), static_cast<int>(most.y) + 8 + page.letters, metres_text(m, step),
                   page.text(Align::middle));
    }
    for (double m = first(map.origin_y); m < map.origin_y + high + 1e-6; m += step) {
        const double y = most.y - (m - map.origin_y) * scale;
        draw_line(image, {least.x - 5, y}, {least.x, y}, tick);
        write_text(image, static_cast<int>(least.x) - 9, static_cast<int>(y) + page.letters * 36 / 100,
                   metres_text(m, step), page.text(Align::right));
    }
    write_text(image, static_cast<int>(most.x), static_cast<int>(most.y) + 10 + 2 * page.letters, "x, metres",
               page.small(Align::right));
    write_text(image, static_cast<int>(least.x), static_cast<int>(least.y) - 6, "y, metres", page.small());
    draw_frame(image, {least.x - 1, least.y - 1}, {most.x + 1, most.y + 1}, {page.ink, 1, 0.8});
}

// Dark and light stretches of the step's length.
void draw_scale_bar(Image& image, const Page& page, Point at, double scale) {
    const double step = step_for(1, scale, page.letters);
    const double pixels = step * scale, thick = page.letters * 0.4;
    for (int part = 0; part < 2; ++part)
        fill_box(image, {at.x + part * pixels, at.y}, {at.x + (part + 1) * pixels, at.y + thick},
                 part == 0 ? page.ink : Colour{1, 1, 1});
    draw_frame(image, at, {at.x + 2 * pixels, at.y + thick}, {page.ink, 1, 1});
    write_text(image, static_cast<int>(at.x + 2 * pixels) + 8,
               static_cast<int>(at.y + thick / 2) + page.letters * 36 / 100, metres_text(2 * step, 2 * step) + " m",
               page.text());
}

// A level line that reads on both light and dark colours.
void draw_level(Image& colours, const StopsMap& calm, const Contour& contour) {
    if (contour.strong) {
        draw_contour(colours, calm, contour.stops, 4.5, {1, 1, 1}, 0.9);
        draw_contour(colours, calm, contour.stops, 2, {0, 0, 0}, 1);
        return;
    }
    const bool dark = lab_of_display(colour_of(contour.stops, MapUnit::lux)).l < 45;
    draw_contour(colours, calm, contour.stops, 1.2, dark ? Colour{1, 1, 1} : Colour{0, 0, 0}, 0.6);
}

// Furniture as it stands under the plane or in it, with its name where there is room, and windows along the walls.
void draw_outlines(Image& image, const LightMap& map, Point lower_left, double scale, int letters) {
    const Colour ink{0.06F, 0.06F, 0.08F}, light{1, 1, 1};
    for (const LightMap::Outline& o : map.outlines) {
        std::vector<Point> corners;
        Point least{1e9, 1e9}, most{-1e9, -1e9};
        for (const Vec3& c : o.corners) {
            const Point s{lower_left.x + (static_cast<double>(c.x) - map.origin_x) * scale,
                          lower_left.y - (static_cast<double>(c.y) - map.origin_y) * scale};
            corners.push_back(s);
            least = {std::min(least.x, s.x), std::min(least.y, s.y)};
            most = {std::max(most.x, s.x), std::max(most.y, s.y)};
        }
        draw_lines(image, corners, !o.window, {light, o.window ? 9.0 : 2.6, o.window ? 1.0 : 0.5});
        draw_lines(image, corners, !o.window, {ink, o.window ? 5.0 : 1.2, o.window ? 1.0 : 0.8});
        if (o.window) draw_lines(image, corners, false, {light, 1.6, 1});
        const Point middle{(least.x + most.x) / 2, (least.y + most.y) / 2};
        const int x = std::clamp(static_cast<int>(middle.x), 0, image.width - 1);
        const int y = std::clamp(static_cast<int>(middle.y), 0, image.height - 1);
        Lettering how = lettering_on(image.pixel(x, y), letters - 2);
        const int wide = text_width(o.name, how);
        if (o.window) {
            // Inside the wall that it stands in.
            const int half = wide / 2 + 8;
            write_text(image, std::clamp(x, half, std::max(half, image.width - half)),
                       std::clamp(y + letters / 3, 2 * letters, std::max(2 * letters, image.height - letters)), o.name,
                       how);
        } else if (wide < most.x - least.x - 4 && letters < most.y - least.y) {
            write_text(image, x, y + letters / 3, o.name, how);
        }
    }
}

}  // namespace

Image plane_map(const LightMap& map, MapUnit unit) {
    if (!(map.metres_per_pixel > 0) || !std::isfinite(map.metres_per_pixel) || !std::isfinite(map.origin_x) ||
        !std::isfinite(map.origin_y))
        throw OutputError("cannot draw a plan without its scale in metres per pixel and its corner");
    const Reference reference = reference_of(map);
    const int longer = std::max(map.width, map.height);
    const int times = std::max(1, (least_side + longer - 1) / longer);
    const double scale = times / map.metres_per_pixel;
    const StopsMap measured = stops_over(map, reference.lux);
    const StopsMap field = enlarged(measured, times);
    const Page page = page_for(std::max(field.height, 520));

    Image colours = coloured(field, unit);
    const StopsMap calm = smoothed(field, times);
    const auto contours = contours_of(calm, reference, unit);
    for (const Contour& contour : contours) draw_level(colours, calm, contour);
    std::vector<PixelBox> taken;
    draw_outlines(colours, map, {0, static_cast<double>(field.height)}, scale, page.letters);
    draw_signs(colours, map, {0, static_cast<double>(field.height)}, scale, page.letters, taken);
    label_contours(colours, calm, contours, page.letters - 1, taken);

    const int head = title_height(page, map) + 2 * page.letters, left = page.margin + 3 * page.letters;
    const int under = 5 * page.letters, area = std::max(field.height, page.letters * 22);
    const int wide = left + field.width + 2 * page.margin + legend_width(page);
    Image image(std::max(wide, page.letters * 44), head + area + under, page.paper);
    draw_title(image, page, page.margin, image.width - 2 * page.margin, map, reference, unit);
    paste(image, colours, left, head);
    const Point least{left + 0.0, head + 0.0}, most{left + field.width + 0.0, head + field.height + 0.0};
    draw_edges(image, page, map, least, most, scale);
    draw_scale_bar(image, page, {least.x, most.y + 3 * page.letters}, scale);
    draw_legend(image, page, left + field.width + page.margin, head, area, field, reference, unit,
                {"lux", -100, 100, notches_of(map, reference)});
    return image;
}

}  // namespace rushlight::map_parts
