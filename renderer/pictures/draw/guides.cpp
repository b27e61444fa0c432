#include "pictures/draw/guides.h"

#include "pictures/draw/drawing.h"
#include "setup/text/typed_number.h"

#include <algorithm>
#include <cmath>

namespace rushlight {
namespace {

constexpr double least_aspect = 0.2, most_aspect = 5;

/// Light on dark and dark on light: one line beside the other.
void draw_seen(Image& image, Point from, Point to, double cover) {
    const double wide = std::max(1.0, image.width / 960.0);
    draw_line(image, from, to, {{0, 0, 0}, 2.6 * wide, 0.35 * cover});
    draw_line(image, from, to, {{1, 1, 1}, wide, cover});
}

}  // namespace

bool guides_from(const std::string& text, Guides& guides, std::string& wrong) {
    for (std::size_t from = 0; from <= text.size();) {
        const std::size_t to = std::min(text.find(',', from), text.size());
        std::string part = text.substr(from, to - from);
        part.erase(0, part.find_first_not_of(' '));
        part.erase(part.find_last_not_of(' ') + 1);
        from = to + 1;
        if (part == "thirds") {
            guides.thirds = true;
        } else if (part == "centre" || part == "center") {
            guides.centre = true;
        } else if (part == "safe") {
            guides.safe = true;
        } else if (const double aspect = typed_aspect(part); aspect >= least_aspect && aspect <= most_aspect) {
            guides.aspects.push_back(aspect);
        } else {
            wrong = part;
            return false;
        }
    }
    return true;
}

Window window_of(double aspect, int width, int height) {
    const double w = std::min<double>(width, height * aspect), h = std::min<double>(height, width / aspect);
    return {(width - w) / 2, (height - h) / 2, (width + w) / 2, (height + h) / 2};
}

void draw_guides(Image& image, const Guides& guides, double dim) {
    Window w{0, 0, static_cast<double>(image.width), static_cast<double>(image.height)};
    if (!guides.aspects.empty()) w = window_of(guides.aspects.front(), image.width, image.height);
    const double right = image.width, low = image.height;
    fill_box(image, {0, 0}, {right, w.y0}, {0, 0, 0}, dim);
    fill_box(image, {0, w.y1}, {right, low}, {0, 0, 0}, dim);
    fill_box(image, {0, w.y0}, {w.x0, w.y1}, {0, 0, 0}, dim);
    fill_box(image, {w.x1, w.y0}, {right, w.y1}, {0, 0, 0}, dim);
    for (const double aspect : guides.aspects) {
        const Window a = window_of(aspect, image.width, image.height);
        if (a.y0 > 0.5)
            for (const double y : {a.y0, a.y1}) draw_seen(image, {a.x0, y}, {a.x1, y}, 0.8);
        if (a.x0 > 0.5)
            for (const double x : {a.x0, a.x1}) draw_seen(image, {x, a.y0}, {x, a.y1}, 0.8);
    }
    const double across = w.x1 - w.x0, down = w.y1 - w.y0;
    if (guides.thirds)
        for (const double t : {1.0 / 3, 2.0 / 3}) {
            draw_seen(image, {w.x0 + t * across, w.y0}, {w.x0 + t * across, w.y1}, 0.45);
            draw_seen(image, {w.x0, w.y0 + t * down}, {w.x1, w.y0 + t * down}, 0.45);
        }
    if (guides.safe) {
        const double x = 0.05 * across, y = 0.05 * down;
        const Point corners[] = {
            {w.x0 + x, w.y0 + y}, {w.x1 - x, w.y0 + y}, {w.x1 - x, w.y1 - y}, {w.x0 + x, w.y1 - y}};
        for (std::size_t i = 0; i < 4; ++i) draw_seen(image, corners[i], corners[(i + 1) % 4], 0.45);
    }
    if (guides.centre) {
        const Point middle{(w.x0 + w.x1) / 2, (w.y0 + w.y1) / 2};
        const double arm = 0.03 * down;
        draw_seen(image, {middle.x - arm, middle.y}, {middle.x + arm, middle.y}, 0.8);
        draw_seen(image, {middle.x, middle.y - arm}, {middle.x, middle.y + arm}, 0.8);
    }
}

}  // namespace rushlight
