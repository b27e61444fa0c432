// From clay to triangles: the surface where a distance is zero.
#pragma once

#include "scene/rays/mesh.h"

#include <functional>
#include <vector>

namespace rushlight {

/// Millimetres, negative inside. Its slope must stay near one within a few centimetres of the surface.
using Distance = std::function<float(const Vec3&)>;

/// Where the surface is looked for, and how finely: rising coordinates of the planes of a grid.
struct ClayGrid {
    std::vector<float> x, y, z;
    /// Where eight cells may share one corner: what is hidden, or never seen near. Nowhere, if not given.
    std::function<bool(const Vec3&)> coarse = {};
};

/// A range of a grid axis: from the last range's end to `to`, in steps of about `step`.
struct GridRange {
    float to, step;
};
std::vector<float> grid_axis(float from, const std::vector<GridRange>& ranges);

/// Which nodes of the grid are measured: those that the surface can be near, or all (slow; for comparison).
enum class Search { near_surface, everywhere };

/// A closed mesh, wound to face outwards, with each corner on the surface: one corner a cell that the surface
/// crosses (surface nets: Gibson, MICCAI 1998), then evened out and set back onto the surface. The distance
/// must be positive all over the grid's rim, or the mesh is open there.
Mesh skin_over(const Distance& distance, const ClayGrid& grid, Search search = Search::near_surface);

/// Steepest rise of the distance at `p`, unit length: the way out.
Vec3 way_out(const Distance& distance, const Vec3& p);

}  // namespace rushlight
