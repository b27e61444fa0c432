// Where a point lies: in the room, in a wall, outside, in the furniture.
#pragma once

#include "setup/plain/place.h"

#include <string>
#include <vector>

namespace rushlight {

/// In the room, or in the box around the model.
bool inside(const Place& place, const Vec3& p);
/// In the thickness of a wall, and not in the reveal of an opening.
bool in_wall(const Place& place, const Vec3& p);
/// The first box that holds the point, or null.
const Box* box_around(const Place& place, const Vec3& p);

/// Middle of an opening on the inner face of its wall, and the unit vector out of the room there.
struct Hole {
    Vec3 centre{0, 0, 0};
    Vec3 out{0, -1, 0};
};
Hole hole_of(const Room& room, const Opening& opening);

/// Openings that a source at `p` could shine in through when it throws light within `half_angle` degrees of
/// `aim`: from the outer side, towards the middle of the hole.
std::vector<std::string> openings_in_reach(const Place& place, const Vec3& p, const Vec3& aim, double half_angle);

}  // namespace rushlight
