// Where a point lies: in the room, in a wall, outside, in the furniture.
#pragma once

#include "setup/plain/place.h"

namespace rushlight {

/// In the room, or in the box around the model.
bool inside(const Place& place, const Vec3& p);
/// In the thickness of a wall, and not in the reveal of an opening.
bool in_wall(const Place& place, const Vec3& p);
/// In the box's own frame: its middle is the origin, its sides are along the axes.
Vec3 seen_from(const Box& box, const Vec3& p);
/// The first box that holds the point, or null.
const Box* box_around(const Place& place, const Vec3& p);

/// Middle of an opening on the inner face of its wall, and the unit vector out of the room there.
struct Hole {
    Vec3 centre{0, 0, 0};
    Vec3 out{0, -1, 0};
};
Hole hole_of(const Room& room, const Opening& opening);

/// What a stand under the point would have to stand on or reach over: the highest box under it that comes up from the
/// floor at least as high as a knee. Null where there is none.
const Box* box_under(const Place& place, const Vec3& p);

}  // namespace rushlight
