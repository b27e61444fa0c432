// A rough model or a hung picture as a plan has it: cut at breast height, with the outline of what lies lower.
#pragma once

#include "pictures/draw/joined_lines.h"
#include "setup/plain/place.h"

#include <memory>

namespace rushlight {

namespace plan_heights {
inline constexpr double cut = 1.2;         // m: what a plan is cut at
inline constexpr double over_heads = 2.0;  // m: what hangs from here up is drawn in dashes
}  // namespace plan_heights

struct PlanShape {
    std::vector<PlanLine> cut;    // where it is cut; of what is flat and upright, its whole width
    std::vector<PlanLine> lower;  // closed outlines (even-odd) of what lies under the cut; of what hangs, all of it
    Vec3 least{0, 0, 0}, most{0, 0, 0};
    bool hangs = false;  // over heads
};

/// In metres of the place, of no more than about `most_points`: details grow coarser until they fit. Of a model that is
/// the place itself, the floor is left out.
std::shared_ptr<const PlanShape> plan_shape(const Model& model, double floor, std::size_t most_points);

/// An opening of a model, seen from above.
std::vector<PlanLine> plan_lines(const OpeningPatch& opening, std::size_t most_points);

}  // namespace rushlight
