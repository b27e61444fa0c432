// A body made to somebody's measures, and posed: feet on the floor, seat on the seat, hands where they rest.
#pragma once

#include "scene/person/mix.h"
#include "scene/person/skeleton.h"
#include "scene/rays/placement.h"
#include "setup/plain/face.h"

namespace rushlight {

/// A body at rest, as large as the person, and its head's own frame.
struct SizedBody {
    Points rest;                 // metres
    Vec3 eye_middle{0};          // between the eyeballs' centres
    std::array<Vec3, 2> eyes{};  // centres of the eyeballs, the person's left and right
    float eye_radius = 0.012F;
    float sole = 0;        // height of the soles of its shoes
    float head_scale = 1;  // of a head 230 mm high
    Vec3 frame_origin{0};  // of the head's frame: 70 mm, times the head's scale, behind the eyes

    /// A point of the body at rest in the head's millimetres.
    Vec3 in_head(const Vec3& p) const { return (p - frame_origin) * (1000 / head_scale); }
};
SizedBody sized_body(const Looks& looks, const Build& stature);

struct HeadTurn {
    float turn = 0, tilt = 0;  // radians: to the left, chin up
    bool operator==(const HeadTurn&) const = default;
};

/// What a body does, its heights above the floor in metres.
struct Doing {
    Pose pose = Pose::standing;
    Hands hands = Hands::sides;
    float seat = 0.45F, table = 0.74F, eyes = 1.6F;
    bool operator==(const Doing&) const = default;
};

/// In metres from the mark: x where the body faces, y to its left, z up from the floor; the head's frame stands over
/// the mark when it is not turned.
class PosedBody {
public:
    PosedBody(const SizedBody& body, const Doing& doing);

    const Points& points() const { return points_; }
    /// The same with the head turned: the neck twists below it, the shoulders stay.
    Points with_head(const HeadTurn& head) const;
    /// The head's frame in millimetres of a head 230 mm high, as turned.
    Placement skull(const HeadTurn& head) const;
    /// How far forward the thighs lie on the seat.
    float seat_until() const { return seat_until_; }

private:
    void trunk(float hips, float chest);
    void slump(float hip_under_eyes, float hips_share, float chest_share, float from, float to);
    void leg(int side, const Vec3& ankle, const Vec3& knee_way, float toes_out, float heel_up);
    void arm(int side, const Vec3& wrist, const Vec3& elbow_way, const Vec3& fingers, const Vec3& palm, float curl);
    void stand(const Doing& doing);
    void sit(const Doing& doing);
    void rest_hands(const Doing& doing);
    void head_over_the_mark(float eyes);
    void turn_head(Skeleton& s, const HeadTurn& head) const;
    float lowest_of_hand(int side) const;

    const SizedBody body_;
    Skeleton bones_;
    Points points_;
    float chest_ = 0;  // how far it leans forward, radians
    float seat_until_ = 0;
};

}  // namespace rushlight
