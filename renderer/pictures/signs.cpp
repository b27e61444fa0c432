// Marks, lamps and cameras on a plan, seen from above and drawn to scale, each with its name beside it.
#include "pictures/map_parts.h"
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
    Spot at;
    double angle, scale;

    Spot operator()(double forward, double left) const {
        const double x = forward * std::cos(angle) - left * std::sin(angle);
        const double y = forward * std::sin(angle) + left * std::cos(angle);
        return {at.x + scale * x, at.y - scale * y};
    }
    void shape(const std::vector<Spot>& corners) const {
        std::vector<Spot> on;
        for (Spot c : corners) on.push_back((*this)(c.x, c.y));
        fill_polygon(image, on, body, 0.92);
        draw_lines(image, on, true, {ink, 1.5, 1});
    }
    void line(double f0, double l0, double f1, double l1, double width, double cover) const {
        draw_line(image, (*this)(f0, l0), (*this)(f1, l1), {ink, width, cover});
    }
};

std::vector<Spot> oval(double forward, double half_long, double half_across) {
    std::vector<Spot> corners;
    for (int i = 0; i < 32; ++i) {
        const double turn = 2 * pi * i / 32;
        corners.push_back({forward + half_long * std::cos(turn), half_across * std::sin(turn)});
    }
    return corners;
}

// Shoulders 0.45 m wide, a head, and a nose that shows the facing.
void person(const Above& above) {
    above.shape(oval(-0.02, 0.12, 0.225));
    above.shape({{0.14, 0.025}, {0.155, 0}, {0.14, -0.025}, {0.08, -0.03}, {0.08, 0.03}});
    above.shape(oval(0.03, 0.10, 0.078));
}

// The glowing front at its true width, the housing behind it, and light leaving it.
void lamp(const Above& above, double width) {
    const double half = std::max(width, 0.12) / 2, depth = std::clamp(width * 0.35, 0.10, 0.25);
    above.shape({{0, half}, {0, -half}, {-depth, -0.35 * half}, {-depth, 0.35 * half}});
    draw_line(above.image, above(0, half), above(0, -half), {ink, 3, 1});
    for (int ray = -1; ray <= 1; ++ray) above.line(0.08, ray * half * 0.7, 0.28, ray * (half * 0.7 + 0.08), 1.5, 0.9);
}

// Body, lens, and a short stretch of what it looks at.
void camera(const Above& above) {
    above.shape({{-0.05, 0.075}, {-0.05, -0.075}, {-0.33, -0.075}, {-0.33, 0.075}});
    above.shape({{0.10, 0.065}, {0.10, -0.065}, {-0.05, -0.045}, {-0.05, 0.045}});
    const Spot from = above(0.12, 0), to = above(0.42, 0);
    draw_arrow(above.image, from, to, 0.10 * above.scale, {ink, 1.5, 1});
}

// A lantern or bulb at its true width, with light leaving it all round.
void ball(const Above& above, double width) {
    const double half = std::max(width, 0.08) / 2;
    above.shape(oval(0, half, half));
    for (int ray = 0; ray < 8; ++ray) {
        const double c = std::cos(pi * ray / 4), s = std::sin(pi * ray / 4);
        above.line((half + 0.05) * c, (half + 0.05) * s, (half + 0.14) * c, (half + 0.14) * s, 1.5, 0.9);
    }
}

// A board, flag or cloth edge-on, with a tick on its working side.
void panel(const Above& above, double width) {
    above.line(0, width / 2, 0, -width / 2, 4, 1);
    above.line(0, 0, 0.12, 0, 2, 1);
}

double reach_of(const LightMap::Sign& sign) {
    switch (sign.kind) {
        case LightMap::SignKind::mark:
            return 0.26;
        case LightMap::SignKind::ball:
        case LightMap::SignKind::lamp:
            return std::max(0.2, sign.width / 2);
        case LightMap::SignKind::camera:
            return 0.3;
        case LightMap::SignKind::panel:
            return std::max(0.12, sign.width / 2);
        case LightMap::SignKind::point:
            break;
    }
    return 0.1;
}

}  // namespace

void draw_signs(Image& image, const LightMap& map, Spot lower_left, double pixels_per_metre, int size,
                std::vector<PixelBox>& taken) {
    const auto place = [&](const LightMap::Sign& sign) {
        return Spot{lower_left.x + (sign.x - map.origin_x) * pixels_per_metre,
                    lower_left.y - (sign.y - map.origin_y) * pixels_per_metre};
    };
    for (const LightMap::Sign& sign : map.signs) {
        const Above above{image, place(sign), radians(Degree{sign.facing}), pixels_per_metre};
        switch (sign.kind) {
            case LightMap::SignKind::mark:
                person(above);
                break;
            case LightMap::SignKind::lamp:
                lamp(above, sign.width);
                break;
            case LightMap::SignKind::camera:
                camera(above);
                break;
            case LightMap::SignKind::ball:
                ball(above, sign.width);
                break;
            case LightMap::SignKind::panel:
                panel(above, sign.width);
                break;
            case LightMap::SignKind::point:
                draw_cross(image, above.at, size * 0.4, {ink, 1.5, 1});
                break;
        }
        const int reach = static_cast<int>(reach_of(sign) * pixels_per_metre);
        const int x = static_cast<int>(above.at.x), y = static_cast<int>(above.at.y);
        taken.push_back({x - reach, y - reach, x + reach, y + reach});
    }
    // Names last, so that no sign covers one: under the sign, or else over it, to the right, to the left.
    for (const LightMap::Sign& sign : map.signs) {
        const Spot at = place(sign);
        const int reach = static_cast<int>(reach_of(sign) * pixels_per_metre);
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
