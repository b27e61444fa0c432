// The clothed body of a figure as clay, in millimetres of a grown person of 1.74 m: x to the front, y to the
// left, z up, the origin in the middle of the neck where it meets the shoulders.
#pragma once

#include "quantity/space.h"
#include "setup/rig.h"

namespace rushlight {

inline constexpr float neck_over_floor = 1432;  // standing, without shoes, at a stature of 1.74 m

/// What differs from person to person, in the body's own millimetres.
struct BodyShape {
    Pose pose = Pose::standing;
    float floor = -1457;  // under the soles
    float seat = -556;    // top of the seat (seated only)

    bool operator==(const BodyShape&) const = default;
};

/// All that is worn, but for the collar.
float clothes(const Vec3& p, const BodyShape& shape);
/// A band where the shirt meets the neck; `skin` is the distance to the skin of head and neck.
float collar(const Vec3& p, const BodyShape& shape, float skin);
/// Both hands and wrists.
float hands(const Vec3& p, const BodyShape& shape);

/// Where the wrists are, for a fine grid round the hands (the left one).
Vec3 left_wrist(const BodyShape& shape);
/// How far forward the shoes can reach.
float toes(const BodyShape& shape);

}  // namespace rushlight
