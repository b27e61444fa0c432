// Where a person's face is, near enough to aim a lamp or a camera at it.
#pragma once

#include "setup/plain/rig.h"

namespace rushlight {

/// Unit vector that the nose points along.
Vec3 facing_of(const Mark& mark);
/// Height of the eyes over the floor, m. Standing: 0.115 m under the crown. Seated: the seat, 0.455 of the
/// person's height, less 0.03 m of slump (ergonomics tables, from memory; good to 3 cm).
double eye_height(const StandIn& person);
/// Between the eyes, 0.09 m before the mark's upright.
Vec3 face_of(const Mark& mark);

}  // namespace rushlight
