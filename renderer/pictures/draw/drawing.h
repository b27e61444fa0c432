// Lines, boxes and dots on a display image, with soft edges. Positions are in pixels, x to the right, y down;
// a pixel's middle lies at half numbers.
#pragma once

#include "pictures/draw/image.h"

#include <span>

namespace rushlight {

struct Point {
    double x = 0, y = 0;
};

struct Pen {
    Colour colour{0, 0, 0};
    double width = 1;
    double cover = 1;  // 0 not seen .. 1 opaque
};

void draw_line(Image& image, Point from, Point to, const Pen& pen);
void draw_lines(Image& image, std::span<const Point> corners, bool closed, const Pen& pen);
/// A line with a head of `head` pixels at its end.
void draw_arrow(Image& image, Point from, Point to, double head, const Pen& pen);
void draw_frame(Image& image, Point least, Point most, const Pen& pen);
void draw_cross(Image& image, Point middle, double arm, const Pen& pen);

void fill_box(Image& image, Point least, Point most, const Colour& colour, double cover = 1);
void fill_disc(Image& image, Point middle, double radius, const Colour& colour, double cover = 1);
/// The inside of a polygon that does not cross itself.
void fill_polygon(Image& image, std::span<const Point> corners, const Colour& colour, double cover = 1);

/// `from` copied onto `image` with its upper left corner at x, y.
void paste(Image& image, const Image& from, int x, int y);

}  // namespace rushlight
