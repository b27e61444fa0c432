// The head of a figure as clay, in millimetres of a head 230 mm high: x to the front, y to the person's left,
// z up, the origin between the eyes.
#pragma once

#include "quantity/space.h"
#include "scene/rays/placement.h"
#include "setup/plain/face.h"

namespace rushlight {

struct HeadSize {
    float crown = crown_over_eyes;
    Vec3 eye{70, 31, 0};  // centre of the left eyeball
    float eye_radius = 12;
    Vec3 neck_base{-40, 0, -196};  // middle of the neck where it meets the shoulders
};
inline const Vec3 head_centre{0, 0, 12};  // of a ball that holds it, without the neck
const HeadSize& head_size();

/// A child's head is large for its body, but its neck fits the shoulders: below the jaw the neck narrows to
/// `share` of its width.
struct NeckFit {
    float share = 1;
    Vec3 fitted(const Vec3& p) const;    // a point of the common head, moved
    Vec3 unfitted(const Vec3& p) const;  // and back
    bool operator==(const NeckFit&) const = default;
    float share_at(float z) const;
};

/// A head turned on its neck, which twists below the jaw and stays at rest at the shoulders.
struct HeadPose {
    float turn = 0, tilt = 0;  // radians: to the left, chin up
    Vec3 posed(const Vec3& p) const { return posed(p, share_at(p.z)); }
    /// The placement of everything that does not hang on the neck.
    Placement whole() const;
    bool operator==(const HeadPose&) const = default;

private:
    Vec3 posed(const Vec3& p, float share) const;
    static float share_at(float z);
};

/// Head and neck without ears and the features of the face: what hair grows on.
float bare_head(const Vec3& p);
/// Skin of head, ears and neck.
float head_skin(const Vec3& p);

}  // namespace rushlight
