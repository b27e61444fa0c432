// Where a person's face is, near enough to aim a lamp or a camera at it.
#pragma once

#include "setup/plain/rig.h"

namespace rushlight {

/// Unit vector that the nose points along.
Vec3 facing_of(const Mark& mark);
/// Height of the eyes over the floor as the person is posed, m: stature.h.
double eye_height(const StandIn& person);
/// Between the eyes, 0.09 m before the mark's upright.
Vec3 face_of(const Mark& mark);

}  // namespace rushlight
