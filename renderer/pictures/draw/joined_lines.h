// Pieces of lines, joined end to end and thinned: how a drawing of many thousand pieces stays small.
#pragma once

#include "pictures/draw/drawing.h"

#include <cstddef>
#include <vector>

namespace rushlight {

/// A closed one ends where it begins.
using PlanLine = std::vector<Point>;

struct LinePiece {
    Point from, to;
};

/// Ends that share a place to a millimetre of the drawing's metres are one; a piece that stands twice counts once.
std::vector<PlanLine> joined(const std::vector<LinePiece>& pieces);

/// No line strays further than `tolerance` from what it was, and what is not larger than that is left out. Where more
/// than `most_points` remain, with a tolerance twice as large, and so on.
std::vector<PlanLine> thinned(std::vector<PlanLine> lines, double tolerance, std::size_t most_points);

std::size_t points_in(const std::vector<PlanLine>& lines);

}  // namespace rushlight
