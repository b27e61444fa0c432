// Where things are on a head, in millimetres of a head 230 mm high: x to the front, y to the person's left, z up, the
// origin between the eyes and 70 mm behind their centres.
#pragma once

#include "quantity/space.h"
#include "setup/plain/face.h"

namespace rushlight {

/// Of the common head; each person's own differ by millimetres.
struct HeadSize {
    float crown = crown_over_eyes;
    Vec3 eye{70, 31, 0};  // centre of the left eyeball
    float eye_radius = 12;
};
inline const Vec3 head_centre{0, 0, 12};  // of a ball that holds it, without the neck
inline const HeadSize& head_size() {
    static const HeadSize size;
    return size;
}

}  // namespace rushlight
