// Where things are on a head, in millimetres of a head 230 mm high: x to the front, y to the person's left, z up, the
// origin between the eyes and 70 mm behind their centres.
#pragma once

#include "quantity/space.h"

namespace rushlight {

/// Of the common head; each person's own differ by millimetres.
struct HeadMeasures {
    float crown = 112;    // above the eyes
    Vec3 eye{70, 31, 0};  // centre of the left eyeball
    float eye_radius = 12;
};
inline constexpr float head_height = 230;
inline const Vec3 head_centre{0, 0, 12};  // of a ball that holds it, without the neck
inline const HeadMeasures& head_measures() {
    static const HeadMeasures measures;
    return measures;
}

}  // namespace rushlight
