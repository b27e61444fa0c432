// Hair as lines with a thickness: what the growers of hair hand to the ray-tracing scene.
#pragma once

#include "quantity/space.h"

#include <cstdint>
#include <string>
#include <vector>

namespace rushlight {

struct Fibres {
    std::string name;
    /// Points along the fibres from root to tip, one fibre after another; m.
    std::vector<Vec3> points;
    std::vector<float> radii;          // of each point, m
    std::vector<std::uint32_t> roots;  // the first point of each fibre

    std::size_t count() const { return roots.size(); }
    std::size_t end_of(std::size_t fibre) const { return fibre + 1 < roots.size() ? roots[fibre + 1] : points.size(); }
};

}  // namespace rushlight
