// Hair as lines with a thickness: what the growers of hair hand to the ray-tracing scene.
#pragma once

#include "quantity/space.h"
#include "scene/rays/placement.h"

#include <cstdint>
#include <memory>
#include <string>
#include <vector>

namespace rushlight {

struct Fibres {
    std::string name;
    /// Points along the fibres from root to tip, one fibre after another; m, or units of the own frame.
    std::vector<Vec3> points;
    std::vector<float> radii;          // of each point, as long
    std::vector<std::uint32_t> roots;  // the first point of each fibre

    std::size_t count() const { return roots.size(); }
    std::size_t end_of(std::size_t fibre) const { return fibre + 1 < roots.size() ? roots[fibre + 1] : points.size(); }
};

/// Hair that was grown once, in a frame of its own, and stands in the place.
struct PlacedFibres {
    std::shared_ptr<const Fibres> made;
    Placement at;
};

}  // namespace rushlight
