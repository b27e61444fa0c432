#include "setup/plain/face.h"

#include "quantity/units.h"
#include "setup/plain/stature.h"

#include <cmath>

namespace rushlight {

Vec3 facing_of(const Mark& mark) {
    const double a = radians(Degree{mark.facing + mark.head_turn}), up = radians(Degree{mark.head_tilt});
    return {static_cast<float>(std::cos(up) * std::cos(a)), static_cast<float>(std::cos(up) * std::sin(a)),
            static_cast<float>(std::sin(up))};
}

double eye_height(const StandIn& person) {
    return stature_of(person).eyes;
}

Vec3 face_of(const Mark& mark) {
    constexpr float before = 0.09F;
    return mark.at + facing_of(mark) * before + Vec3(0, 0, static_cast<float>(eye_height(mark.person)));
}

}  // namespace rushlight
