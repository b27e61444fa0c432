// The signs of a plan as shapes in metres, seen from above: x along the way a thing faces, y to its left. Maps, printed
// plans and the desk's page draw the same ones.
#pragma once

#include "pictures/draw/drawing.h"
#include "results/frame/light_map.h"
#include "setup/plain/rig.h"

#include <vector>

namespace rushlight {

/// What a line of a sign stands for; it says how heavy the line is drawn.
enum class SignPen { thin, ray, sight, tick, front, edge };

struct SignShape {
    struct Line {
        Point from, to;
        SignPen pen = SignPen::thin;
        bool arrow() const { return pen == SignPen::sight; }
        double weight() const;  // of the pen, in pixels of a picture
    };
    std::vector<std::vector<Point>> bodies;  // closed, drawn in this order
    std::vector<Line> lines;                 // over them
};

/// A lamp that shines straight down has no side to show, as a ball has none.
LightMap::SignKind sign_of(const Lamp& lamp);
/// `width`: metres across the facing, of a lamp or panel.
SignShape sign_shape(LightMap::SignKind kind, double width);
/// Metres round its place that a sign covers.
double sign_reach(LightMap::SignKind kind, double width);

}  // namespace rushlight
