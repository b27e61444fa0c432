// The way from one point to another.
#pragma once

#include "quantity/space.h"

namespace rushlight {

struct Way {
    Vec3 toward{0, 0, 1};
    float distance;
};
inline Way way_to(const Vec3& from, const Vec3& to) {
    const Vec3 d = to - from;
    const float distance = d.length();
    return {distance > 0 ? d / distance : Vec3(0, 0, 1), distance};
}

}  // namespace rushlight
