#include "pictures/maps/sign_shapes.h"

#include "quantity/units.h"

#include <algorithm>
#include <cmath>

namespace rushlight {
namespace {

std::vector<Point> oval(double forward, double half_long, double half_across) {
    std::vector<Point> corners;
    for (int i = 0; i < 32; ++i) {
        const double turn = 2 * pi * i / 32;
        corners.push_back({forward + half_long * std::cos(turn), half_across * std::sin(turn)});
    }
    return corners;
}

// Shoulders 0.45 m wide, a head, and a nose that shows the facing.
SignShape person() {
    return {{oval(-0.02, 0.12, 0.225),
             {{0.14, 0.025}, {0.155, 0}, {0.14, -0.025}, {0.08, -0.03}, {0.08, 0.03}},
             oval(0.03, 0.10, 0.078)},
            {}};
}

// The glowing front at its true width, the housing behind it, and light leaving it.
SignShape lamp(double width) {
    const double half = std::max(width, 0.12) / 2, depth = std::clamp(width * 0.35, 0.10, 0.25);
    SignShape s;
    s.bodies.push_back({{0, half}, {0, -half}, {-depth, -0.35 * half}, {-depth, 0.35 * half}});
    s.lines.push_back({{0, half}, {0, -half}, SignPen::front});
    for (int ray = -1; ray <= 1; ++ray)
        s.lines.push_back({{0.08, ray * half * 0.7}, {0.28, ray * (half * 0.7 + 0.08)}, SignPen::ray});
    return s;
}

// Body, lens, and a short stretch of what it looks at.
SignShape camera() {
    return {{{{-0.05, 0.075}, {-0.05, -0.075}, {-0.33, -0.075}, {-0.33, 0.075}},
             {{0.10, 0.065}, {0.10, -0.065}, {-0.05, -0.045}, {-0.05, 0.045}}},
            {{{0.12, 0}, {0.42, 0}, SignPen::sight}}};
}

// A lantern or bulb at its true width, with light leaving it all round.
SignShape ball(double width) {
    const double half = std::max(width, 0.08) / 2;
    SignShape s;
    s.bodies.push_back(oval(0, half, half));
    for (int ray = 0; ray < 8; ++ray) {
        const double c = std::cos(pi * ray / 4), d = std::sin(pi * ray / 4);
        s.lines.push_back(
            {{(half + 0.05) * c, (half + 0.05) * d}, {(half + 0.14) * c, (half + 0.14) * d}, SignPen::ray});
    }
    return s;
}

// A board, flag or cloth edge-on, with a tick on its working side.
SignShape panel(double width) {
    return {{}, {{{0, width / 2}, {0, -width / 2}, SignPen::edge}, {{0, 0}, {0.12, 0}, SignPen::tick}}};
}

}  // namespace

double SignShape::Line::weight() const {
    static constexpr double weights[] = {1.5, 1.5, 1.5, 2, 3, 4};
    return weights[static_cast<std::size_t>(pen)];
}

LightMap::SignKind sign_of(const Lamp& lamp) {
    constexpr float down = 0.97F;  // cosine
    return lamp.shape == LampShape::ball || std::abs(lamp.aim.z) > down ? LightMap::SignKind::ball
                                                                        : LightMap::SignKind::lamp;
}

SignShape sign_shape(LightMap::SignKind kind, double width) {
    switch (kind) {
        case LightMap::SignKind::mark:
            return person();
        case LightMap::SignKind::lamp:
            return lamp(width);
        case LightMap::SignKind::ball:
            return ball(width);
        case LightMap::SignKind::camera:
            return camera();
        case LightMap::SignKind::panel:
            return panel(width);
        case LightMap::SignKind::point:
            break;
    }
    return {{}, {{{-0.06, -0.06}, {0.06, 0.06}}, {{-0.06, 0.06}, {0.06, -0.06}}}};
}

double sign_reach(LightMap::SignKind kind, double width) {
    switch (kind) {
        case LightMap::SignKind::mark:
            return 0.26;
        case LightMap::SignKind::ball:
        case LightMap::SignKind::lamp:
            return std::max(0.2, width / 2);
        case LightMap::SignKind::camera:
            return 0.3;
        case LightMap::SignKind::panel:
            return std::max(0.12, width / 2);
        case LightMap::SignKind::point:
            break;
    }
    return 0.1;
}

}  // namespace rushlight
