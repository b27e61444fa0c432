// Marks, lamps and cameras on a plan, seen from above and drawn to scale, each with its name beside it.
#include "pictures/maps/map_parts.h"
#include "pictures/maps/sign_shapes.h"
#include "quantity/units.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace rushlight::map_parts {
namespace {

const Colour ink{0.06F, 0.06F, 0.08F}, body{0.99F, 0.99F, 0.98F};

// Metres along and across a sign's facing, on the picture.
struct Above {
    Image& image;
    Point at;
    double angle, scale;

    Point operator()(double forward, double left) const {
        const double x = forward * std::cos(angle) - left * std::sin(angle);
        const double y = forward * std::sin(angle) + left * std::cos(angle);
        return {at.x + scale * x, at.y - scale * y};
    }
    void shape(const std::vector<Point>& corners) const {
        std::vector<Point> on;
        for (Point c : corners) on.push_back((*this)(c.x, c.y));
        fill_polygon(image, on, body, 0.92);
        draw_lines(image, on, true, {ink, 1.5, 1});
    }
    void line(double f0, double l0, double f1, double l1, double width, double cover) const {
        draw_line(image, (*this)(f0, l0), (*this)(f1, l1), {ink, width, cover});
    }
};

// Bodies first, their lines over them.
void draw(const Above& above, const SignShape& sign) {
    for (const auto& corners : sign.bodies) above.shape(corners);
    for (const SignShape::Line& l : sign.lines)
        if (l.arrow())
            draw_arrow(above.image, above(l.from.x, l.from.y), above(l.to.x, l.to.y), 0.10 * above.scale,
                       {ink, l.weight(), 1});
        else
            above.line(l.from.x, l.from.y, l.to.x, l.to.y, l.weight(), l.weight() < 2 ? 0.9 : 1);
}

}  // namespace

void draw_signs(Image& image, const LightMap& map, Point lower_left, double pixels_per_metre, int size,
                std::vector<PixelBox>& taken) {
    const auto place = [&](const LightMap::Sign& sign) {
        return Point{lower_left.x + (sign.x - map.origin_x) * pixels_per_metre,
                     lower_left.y - (sign.y - map.origin_y) * pixels_per_metre};
    };
    for (const LightMap::Sign& sign : map.signs) {
        const Above above{image, place(sign), radians(Degree{sign.facing}), pixels_per_metre};
        if (sign.kind == LightMap::SignKind::point)
            draw_cross(image, above.at, size * 0.4, {ink, 1.5, 1});
        else
            draw(above, sign_shape(sign.kind, sign.width));
        const int reach = static_cast<int>(sign_reach(sign.kind, sign.width) * pixels_per_metre);
        const int x = static_cast<int>(above.at.x), y = static_cast<int>(above.at.y);
        taken.push_back({x - reach, y - reach, x + reach, y + reach});
    }
    // Names last, so that no sign covers one: under the sign, or else over it, to the right, to the left.
    for (const LightMap::Sign& sign : map.signs) {
        const Point at = place(sign);
        const int reach = static_cast<int>(sign_reach(sign.kind, sign.width) * pixels_per_metre);
        const int x = static_cast<int>(at.x), y = static_cast<int>(at.y), half = size * 36 / 100;
        struct Try {
            int x, y;
            Align align;
        };
        const Try tries[] = {{x, y + reach + size + 2, Align::middle},
                             {x, y - reach - size / 3, Align::middle},
                             {x + reach + 6, y + half, Align::left},
                             {x - reach - 6, y + half, Align::right},
                             {x, y + reach + 2 * size + 6, Align::middle}};
        Lettering how{size, true, Align::middle, body, ink};
        PixelBox chosen{};
        for (const Try& t : tries) {
            how.align = t.align;
            const PixelBox box = text_box(t.x, t.y, sign.name, how);
            const bool free =
                box.x0 >= 0 && box.y0 >= 0 && box.x1 <= image.width && box.y1 <= image.height &&
                std::none_of(taken.begin(), taken.end(), [&](const PixelBox& o) { return o.touches(box); });
            if (!free && &t != std::end(tries) - 1) continue;
            chosen = write_text(image, t.x, t.y, sign.name, how);
            break;
        }
        taken.push_back(chosen);
    }
}

}  // namespace rushlight::map_parts
