#include "scene/stand_in_body.h"

#include "scene/stand_in_clay.h"

namespace rushlight {

using namespace clay;

namespace {

Vec3 one_sided(const Vec3& p) {
    return {p.x, std::sqrt(p.y * p.y + 36.0F) - 3.0F, p.z};
}

/// The joints of the left side.
struct Joints {
    Vec3 shoulder{-24, 176, -58};
    Vec3 elbow, wrist, fingers;  // fingers: the way the hand points
    Vec3 palm;                   // the way the palm faces
    Vec3 hip, knee, ankle;
    float sole;

    explicit Joints(const BodyShape& s) : sole(s.floor) {
        if (s.pose == Pose::standing) {
            elbow = {-34, 222, -372};
            wrist = {14, 238, -606};
            fingers = Vec3(0.20F, 0.02F, -1).normalized();
            palm = Vec3(-0.15F, -1, 0).normalized();
            hip = {-2, 84, -560};
            knee = {10, 86, s.floor + 490};
            ankle = {-12, 84, s.floor + 88};
        } else {
            hip = {-8, 92, s.seat + 84};
            knee = {432, 112, s.seat + 72};
            // The lower leg hangs from the knee; on a low seat it slopes forward, on a high one it dangles.
            constexpr float shin = 415;
            const float drop = std::min(knee.z - (s.floor + 88), shin);
            ankle = {knee.x - 22 + std::sqrt(std::max(shin * shin - drop * drop, 0.0F)), 106, knee.z - drop};
            sole = ankle.z - 88;
            elbow = {42, 228, -330};
            wrist = {250, 140, knee.z + 98};
            fingers = Vec3(0.95F, -0.22F, -0.22F).normalized();
            palm = Vec3(-0.2F, 0, -1).normalized();
        }
    }
};

float trunk(const Vec3& q, const BodyShape& s) {
    const bool seated = s.pose == Pose::seated;
    const float hips = seated ? s.seat + 92 : -545.0F;
    const float waist = seated ? hips + 110 : -390.0F;
    float d = ellipsoid(q, {0, 0, -172}, {106, 156, 176});                // ribs
    d = joined(d, ellipsoid(q, {42, 60, -176}, {58, 70, 78}), 60);        // chest
    d = joined(d, ellipsoid(q, {-44, 72, -130}, {56, 76, 116}), 60);      // shoulder blades
    d = joined(d, limb(q, {-30, 30, -40}, {-26, 160, -54}, 52, 46), 60);  // shoulders
    d = joined(d, limb(q, {-44, 4, 20}, {-34, 142, -36}, 30, 38), 60);    // slope up to the neck
    d = joined(d, ellipsoid(q, {4, 0, waist}, {104, 148, 190}), 70);      // waist
    const Vec3 seat_size = seated ? Vec3(120, 172, 100) : Vec3(108, 164, 150);
    return joined(d, ellipsoid(q, {seated ? -14.0F : -8.0F, 0, hips}, seat_size), 60);
}

float sleeve(const Vec3& q, const Joints& j) {
    float d = limb(q, j.shoulder, j.elbow, 50, 43);
    // The cuff stops short of the wrist.
    d = joined(d, limb(q, j.elbow, j.wrist + (j.elbow - j.wrist).normalized() * 32, 43, 34), 22);
    return d;
}

float trouser_leg(const Vec3& q, const Joints& j, bool seated) {
    float d = limb(q, j.hip, j.knee, seated ? 82 : 84, 57);
    d = joined(d, limb(q, j.knee, j.ankle + Vec3(0, 0, 22), 54, 48), 40);
    if (seated) d = joined(d, ellipsoid(q, (j.hip * 0.55F + j.knee * 0.45F) + Vec3(0, 0, -4), {180, 84, 74}), 30);
    return d;
}

float shoe(const Vec3& q, const Joints& j) {
    const Vec3 a = j.ankle;
    float d = ellipsoid(q, {a.x + 62, a.y + 6, j.sole + 24}, {128, 43, 38});
    d = joined(d, limb(q, {a.x - 8, a.y, j.sole + 38}, {a.x, a.y, j.sole + 92}, 42, 44), 30);
    return common(d, j.sole - q.z, 6);
}

/// Cloth hangs and gathers: shallow folds where limbs bend and at the waist.
float folds(const Vec3& p, const Vec3& q, const Joints& j, const BodyShape& s) {
    const auto ripple = [](float a) { return std::sin(a) + 0.5F * std::sin(1.7F * a + 1.1F); };
    const Vec3 upper = (j.elbow - j.shoulder).normalized();
    const bool seated = s.pose == Pose::seated;
    float f = 0;
    f += 2.4F * dab(q, j.elbow + Vec3(20, -12, 0), {60, 50, 70}) *
         ripple((q - j.elbow).dot(upper) / 8.5F + 0.03F * q.x + p.y * 0.004F);
    f += 2.0F * dab(q, j.shoulder + Vec3(20, -50, -80), {70, 50, 80}) *
         ripple((q.z * 0.6F + q.y * 0.6F - q.x * 0.3F) / 12);
    const float waist = seated ? s.seat + 205 : -400.0F;
    f += (seated ? 3.4F : 2.0F) * dab(q, {70, 80, waist}, {90, 110, 70}) *
         ripple((q.z + 0.35F * q.y + 6 * std::sin(p.y / 60)) / 12);
    // Behind a straight knee, over a bent one.
    f += (seated ? 1.6F : 1.3F) * dab(q, j.knee + (seated ? Vec3(-30, 0, 40) : Vec3(-40, 0, 10)), {60, 60, 60}) *
         ripple((q.x * 0.5F + q.z) / 11 + 0.02F * q.y);
    f += 1.8F * dab(q, j.ankle + Vec3(30, 10, 50), {60, 60, 50}) * ripple((q.z + 0.4F * q.y) / 10 + 0.03F * q.x);
    return f;
}

struct HandFrame {
    Vec3 along, palm, side;  // to the fingers, out of the palm, to the thumb
    Vec3 wrist;
    explicit HandFrame(const Joints& j) : along(j.fingers), wrist(j.wrist) {
        palm = (j.palm - along * along.dot(j.palm)).normalized();
        // For the left hand with the palm down and the fingers ahead the thumb is on the right: palm x along.
        side = palm.cross(along);
    }
    Vec3 at(float forth, float thumbward, float palmward) const {
        return wrist + along * forth + side * thumbward + palm * palmward;
    }
};

}  // namespace

Vec3 left_wrist(const BodyShape& shape) {
    return Joints(shape).wrist;
}

float toes(const BodyShape& shape) {
    return std::max(Joints(shape).ankle.x, 432.0F) + 215;
}

float clothes(const Vec3& p, const BodyShape& s) {
    const Vec3 q = one_sided(p);
    const Joints j(s);
    const bool seated = s.pose == Pose::seated;
    float d = trunk(q, s);
    d = joined(d, sleeve(q, j), 44);
    const float hem = seated ? s.seat + 70 : -640.0F;
    float legs = trouser_leg(q, j, seated);
    if (!seated) {
        // The shirt hangs a finger's breadth outside the trousers.
        float shirt = common(joined(d, ellipsoid(q, {-6, 0, -580}, {116, 172, 190}), 40), hem - q.z, 8);
        legs = joined(legs, ellipsoid(q, {-8, 0, -580}, {106, 162, 130}), 40);
        d = joined(shirt, legs, 3);
    } else {
        d = joined(d, legs, 24);
    }
    if (std::abs(d) < 25) d += folds(p, q, j, s);  // they matter at the surface only
    d = joined(d, shoe(q, j), 4);
    return d;
}

float collar(const Vec3& p, const BodyShape& s, float skin) {
    return common(skin - 7, std::abs(trunk(one_sided(p), s)) - 11, 6);
}

float hands(const Vec3& p, const BodyShape& s) {
    const Vec3 q{p.x, std::abs(p.y), p.z};
    const Joints j(s);
    const HandFrame h(j);
    const Vec3 forearm = (j.wrist - j.elbow).normalized();
    float d = limb(q, j.wrist - forearm * 40, h.at(14, 0, 0), 26, 24);
    // The palm: a flattened limb in the hand's own frame.
    const Vec3 r = q - h.at(55, 0, 2);
    const Vec3 e(r.dot(h.along), r.dot(h.side), r.dot(h.palm));
    d = joined(d, ellipsoid(e, {0, 0, 0}, {56, 42, 17}), 18);
    constexpr float across[4] = {28, 9.5F, -9.5F, -27}, length[4] = {68, 78, 72, 54};
    for (int f = 0; f < 4; ++f) {
        const Vec3 knuckle = h.at(86 - (f == 3 ? 8.0F : 0.0F), across[f], 2);
        const Vec3 middle = h.at(86 + 0.55F * length[f], across[f] * 1.08F, 8);
        const Vec3 tip = h.at(84 + length[f], across[f] * 1.05F, 20);
        d = joined(d, joined(limb(q, knuckle, middle, 9.5F, 8.5F), limb(q, middle, tip, 8.5F, 7), 4), 5);
    }
    const Vec3 ball_of_thumb = h.at(28, 30, 8), joint = h.at(62, 52, 14), end = h.at(92, 56, 16);
    d = joined(d, limb(q, ball_of_thumb, joint, 15, 11), 14);
    return joined(d, limb(q, joint, end, 10.5F, 8), 5);
}

}  // namespace rushlight
