#include "pictures/draw/drawing.h"

#include <algorithm>
#include <cmath>

namespace rushlight {
namespace {

// Calls `cover_at(x, y)` for each pixel of the picture in the given bounds and lays the colour on by it.
template <class CoverAt>
void lay(Image& image, Point least, Point most, const Colour& colour, double cover, CoverAt cover_at) {
    const int x0 = static_cast<int>(std::floor(std::clamp(least.x, 0.0, static_cast<double>(image.width))));
    const int y0 = static_cast<int>(std::floor(std::clamp(least.y, 0.0, static_cast<double>(image.height))));
    const int x1 = static_cast<int>(std::ceil(std::clamp(most.x, 0.0, static_cast<double>(image.width))));
    const int y1 = static_cast<int>(std::ceil(std::clamp(most.y, 0.0, static_cast<double>(image.height))));
    for (int y = y0; y < y1; ++y)
        for (int x = x0; x < x1; ++x)
            image.blend(x, y, colour, static_cast<float>(cover * std::clamp(cover_at(x + 0.5, y + 0.5), 0.0, 1.0)));
}

// How much of the stretch from a to b lies in the pixel around `middle`.
double overlap(double a, double b, double middle) {
    return std::min(b, middle + 0.5) - std::max(a, middle - 0.5);
}

double distance_to_line(Point p, Point a, Point b) {
    const double dx = b.x - a.x, dy = b.y - a.y, square = dx * dx + dy * dy;
    const double t = square > 0 ? std::clamp(((p.x - a.x) * dx + (p.y - a.y) * dy) / square, 0.0, 1.0) : 0.0;
    return std::hypot(p.x - a.x - t * dx, p.y - a.y - t * dy);
}

bool inside(Point p, std::span<const Point> corners) {
    bool in = false;
    for (std::size_t i = 0, j = corners.size() - 1; i < corners.size(); j = i++) {
        const Point a = corners[i], b = corners[j];
        if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y)) in = !in;
    }
    return in;
}

}  // namespace

void draw_line(Image& image, Point from, Point to, const Pen& pen) {
    const double reach = pen.width / 2 + 1;
    const Point least{std::min(from.x, to.x) - reach, std::min(from.y, to.y) - reach};
    const Point most{std::max(from.x, to.x) + reach, std::max(from.y, to.y) + reach};
    lay(image, least, most, pen.colour, pen.cover, [&](double x, double y) {
        return pen.width / 2 + 0.5 - distance_to_line({x, y}, from, to);
    });
}

void draw_lines(Image& image, std::span<const Point> corners, bool closed, const Pen& pen) {
    for (std::size_t i = 1; i < corners.size(); ++i) draw_line(image, corners[i - 1], corners[i], pen);
    if (closed && corners.size() > 2) draw_line(image, corners.back(), corners.front(), pen);
}

void draw_arrow(Image& image, Point from, Point to, double head, const Pen& pen) {
    const double length = std::hypot(to.x - from.x, to.y - from.y);
    if (!(length > 0)) return;
    const Point along{(to.x - from.x) / length, (to.y - from.y) / length};
    const Point neck{to.x - head * along.x, to.y - head * along.y};
    draw_line(image, from, neck, pen);
    const Point tip[3] = {to,
                          {neck.x - 0.45 * head * along.y, neck.y + 0.45 * head * along.x},
                          {neck.x + 0.45 * head * along.y, neck.y - 0.45 * head * along.x}};
    fill_polygon(image, tip, pen.colour, pen.cover);
}

void draw_frame(Image& image, Point least, Point most, const Pen& pen) {
    const double w = pen.width;
    fill_box(image, least, {most.x, least.y + w}, pen.colour, pen.cover);
    fill_box(image, {least.x, most.y - w}, most, pen.colour, pen.cover);
    fill_box(image, {least.x, least.y + w}, {least.x + w, most.y - w}, pen.colour, pen.cover);
    fill_box(image, {most.x - w, least.y + w}, {most.x, most.y - w}, pen.colour, pen.cover);
}

void draw_cross(Image& image, Point middle, double arm, const Pen& pen) {
    draw_line(image, {middle.x - arm, middle.y}, {middle.x + arm, middle.y}, pen);
    draw_line(image, {middle.x, middle.y - arm}, {middle.x, middle.y + arm}, pen);
}

void fill_box(Image& image, Point least, Point most, const Colour& colour, double cover) {
    lay(image, least, most, colour, cover, [&](double x, double y) {
        return std::max(0.0, overlap(least.x, most.x, x)) * std::max(0.0, overlap(least.y, most.y, y));
    });
}

void fill_disc(Image& image, Point middle, double radius, const Colour& colour, double cover) {
    lay(image, {middle.x - radius - 1, middle.y - radius - 1}, {middle.x + radius + 1, middle.y + radius + 1}, colour,
        cover, [&](double x, double y) { return radius + 0.5 - std::hypot(x - middle.x, y - middle.y); });
}

void fill_polygon(Image& image, std::span<const Point> corners, const Colour& colour, double cover) {
    if (corners.size() < 3) return;
    Point least = corners[0], most = corners[0];
    for (Point c : corners) {
        least = {std::min(least.x, c.x), std::min(least.y, c.y)};
        most = {std::max(most.x, c.x), std::max(most.y, c.y)};
    }
    constexpr int fine = 4;  // 16 points a pixel are enough for an edge of a sign
    lay(image, least, most, colour, cover, [&](double x, double y) {
        int hits = 0;
        for (int j = 0; j < fine; ++j)
            for (int i = 0; i < fine; ++i)
                hits += inside({x - 0.5 + (i + 0.5) / fine, y - 0.5 + (j + 0.5) / fine}, corners) ? 1 : 0;
        return static_cast<double>(hits) / (fine * fine);
    });
}

void paste(Image& image, const Image& from, int x, int y) {
    for (int row = 0; row < from.height; ++row)
        for (int column = 0; column < from.width; ++column)
            if (image.inside(x + column, y + row)) image.set(x + column, y + row, from.pixel(column, row));
}

}  // namespace rushlight
