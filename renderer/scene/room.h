// The room's shell: walls with holes, the reveals of its openings, the glass in them.
#pragma once

#include "scene/rays/mesh.h"
#include "scene/rays/rectangle.h"
#include "setup/plain/place.h"

#include <optional>
#include <vector>

namespace rushlight {

/// One wall (or floor, or ceiling) with its openings cut out. Walls reach a centimetre past their corners,
/// so that no ray slips out where two of them meet.
Mesh wall_mesh(const Room& room, Wall wall);
/// The sides of the hole through the wall's thickness.
Mesh reveal_mesh(const Room& room, const Opening& opening);
/// The outer end of the hole, its normal into the room: where the glass is and where daylight comes in.
Rectangle opening_rectangle(const Room& room, const Opening& opening);
/// Glass, bars, dirt and ND as one pane; nothing for a bare hole without bars.
std::optional<Finish> glass_of(bool glazed, double glass, double bars, double nd_density);
/// Slats of a blind in the reveal, close to the glass, or just inside a wall too thin for them; from the head down or,
/// turned upright, from side to side.
Mesh blind_mesh(const Room& room, const Opening& opening, const Blind& blind);
Mesh rectangle_mesh(const Rectangle& r, const Finish& finish);
/// The smallest level-edged rectangle, in the plane of these triangles, that holds them; normal towards
/// `inside`. One rectangle for each plane met.
std::vector<Rectangle> rectangles_of(const OpeningPatch& patch, const Vec3& inside);

}  // namespace rushlight
