// Bones of a body of some shape, how they are turned, and the skin that follows them: dual quaternions, so that a
// bent or twisted limb keeps its girth (Kavan, Collins, Zara and O'Sullivan, ACM Trans. Graphics 27(4), 2008).
#pragma once

#include "scene/person/body_data.h"

#include <ImathQuat.h>

namespace rushlight {

using Turn = Imath::Quatf;

/// About `axis`, anticlockwise seen against it; radians.
Turn turn_about(const Vec3& axis, float angle);
/// The shortest turn from one way to another; unit vectors.
Turn turn_between(const Vec3& from, const Vec3& to);
/// What carries the frame of (way, side) into another; `side` need not be upright on `way`.
Turn turn_of_frames(const Vec3& way, const Vec3& side, const Vec3& new_way, const Vec3& new_side);
inline Vec3 turned_by(const Turn& t, const Vec3& v) {
    return t.rotateVector(v);
}

class Skeleton {
public:
    explicit Skeleton(const Points& rest);

    const Vec3& head_at_rest(int bone) const { return head_[static_cast<std::size_t>(bone)]; }
    /// From here on everything of `bone` and of what hangs on it is turned so; parents are turned before children.
    void turn(int bone, const Turn& turn);
    const Turn& turn_of(int bone) const { return turn_[static_cast<std::size_t>(bone)]; }
    /// A point that moves with the bone.
    Vec3 moved(int bone, const Vec3& at_rest) const;
    Vec3 head(int bone) const { return moved(bone, head_at_rest(bone)); }
    void shift(const Vec3& by);

    /// The whole body as posed.
    Points posed(const Points& rest) const;

private:
    std::vector<Vec3> head_, place_;  // where each bone begins, at rest and now
    std::vector<Turn> turn_;
};

}  // namespace rushlight
