// A drawn polygon cut into triangles: concave and slightly bent ones too.
#pragma once

#include <ImathVec.h>

#include <array>
#include <cstddef>
#include <span>
#include <vector>

namespace rushlight {

struct CutPolygon {
    std::vector<std::array<std::size_t, 3>> triangles;  // numbers of corners, wound as the polygon is
    bool crosses_itself = false;                        // its area is not that of its triangles
    std::size_t looks = 0;                              // at corners: what cutting it took
};

/// Ears are clipped in the plane of the polygon's mean normal (Newell's); a convex quad is cut along its
/// shorter diagonal. A polygon without area gives no triangles.
CutPolygon cut_polygon(std::span<const Imath::V3d> corners);

}  // namespace rushlight
