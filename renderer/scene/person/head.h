// Where things are on a head, in millimetres of a head 230 mm high: x to the front, y to the person's left, z up, the
// origin between the eyes and 70 mm behind their centres.
#pragma once

#include "quantity/space.h"

namespace rushlight {

inline const Vec3 head_centre{0, 0, 12};  // of a ball that holds it, without the neck

}  // namespace rushlight
