// The clothed body of a figure as clay, in millimetres of a grown person of 1.74 m: x to the front, y to the
// left, z up, the origin in the middle of the neck where it meets the shoulders.
#pragma once

#include "quantity/space.h"
#include "scene/figure/clay.h"
#include "setup/plain/rig.h"

namespace rushlight {

inline constexpr float neck_over_floor = 1432;  // standing, without shoes, at a stature of 1.74 m

/// The measures that differ from person to person, in the body's own millimetres.
struct BodyShape {
    Pose pose = Pose::standing;
    float floor = -1457;  // under the soles
    float seat = -556;    // top of the seat (seated only)

    bool operator==(const BodyShape&) const = default;
};

/// The joints of the left side.
struct Joints {
    Vec3 shoulder{-24, 176, -58};
    Vec3 elbow, wrist, fingers;  // fingers: the way the hand points
    Vec3 palm;                   // the way the palm faces
    Vec3 hip, knee, ankle;
    float sole;

    explicit Joints(const BodyShape& shape);
};

/// All that is worn, but for the collar.
class Clothes {
public:
    explicit Clothes(const BodyShape& shape) : shape_(shape), seated_(shape.pose == Pose::seated), joints_(shape) {}
    float operator()(const Vec3& p) const;
    /// Shirt and seat without limbs.
    float trunk(const Vec3& p) const;
    /// How far forward the shoes can reach.
    float toes() const;

private:
    float sleeve(float d, const Vec3& q) const;
    float trouser_leg(const Vec3& q) const;
    float shoe(float d, const Vec3& q) const;
    float folds(const Vec3& p, const Vec3& q) const;

    BodyShape shape_;
    bool seated_;
    Joints joints_;
};

/// A band where the shirt meets the neck; `skin` gives the distance to the skin of the neck.
template <class Skin>
float collar(const Vec3& p, const Clothes& clothes, const Skin& skin) {
    const float off_shirt = std::abs(clothes.trunk(p)) - 11;
    return off_shirt > 40 ? off_shirt : clay::common(skin(p) - 7, off_shirt, 6);
}

/// Both hands and wrists.
class Hands {
public:
    explicit Hands(const BodyShape& shape);
    float operator()(const Vec3& p) const;
    /// The left hand's box, for a fine grid round the hands.
    const Vec3& wrist() const { return wrist_; }

private:
    Vec3 at(float forth, float thumbward, float palmward) const {
        return wrist_ + along_ * forth + side_ * thumbward + palm_ * palmward;
    }

    Vec3 wrist_, forearm_;
    Vec3 along_, palm_, side_;  // to the fingers, out of the palm, to the thumb
    struct Finger {
        Vec3 knuckle, middle, tip;
    };
    Finger finger_[4], thumb_;
};

}  // namespace rushlight
