// The signs of a plan as shapes in metres, seen from above: x along the way a thing faces, y to its left. Maps and
// plans draw the same ones.
#pragma once

#include "pictures/draw/drawing.h"
#include "results/frame/light_map.h"

#include <vector>

namespace rushlight {

struct SignShape {
    struct Line {
        Point from, to;
        double weight = 1.5;  // of the pen, in pixels of a picture
        bool arrow = false;
    };
    std::vector<std::vector<Point>> bodies;  // closed, drawn in this order
    std::vector<Line> lines;                 // over them
};

/// `width`: metres across the facing, of a lamp or panel.
SignShape sign_shape(LightMap::SignKind kind, double width);
/// Metres round its place that a sign covers.
double sign_reach(LightMap::SignKind kind, double width);

}  // namespace rushlight
