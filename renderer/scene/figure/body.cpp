#include "scene/figure/body.h"

namespace rushlight {

using namespace clay;

namespace {

Vec3 one_sided(const Vec3& p) {
    return {p.x, std::sqrt(p.y * p.y + 36.0F) - 3.0F, p.z};
}

}  // namespace

Joints::Joints(const BodyShape& s) : sole(s.floor) {
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

float Clothes::trunk(const Vec3& p) const {
    const Vec3 q = one_sided(p);
    const float hips = seated_ ? shape_.seat + 92 : -545.0F;
    const float waist = seated_ ? hips + 110 : -390.0F;
    float d = ellipsoid(q, {0, 0, -172}, {106, 156, 176});             // ribs
    d = with_ellipsoid(d, q, {42, 60, -176}, {58, 70, 78}, 60);        // chest
    d = with_ellipsoid(d, q, {-44, 72, -130}, {56, 76, 116}, 60);      // shoulder blades
    d = with_limb(d, q, {-30, 30, -40}, {-26, 160, -54}, 52, 46, 60);  // shoulders
    d = with_limb(d, q, {-44, 4, 20}, {-34, 142, -36}, 30, 38, 60);    // slope up to the neck
    d = with_ellipsoid(d, q, {4, 0, waist}, {104, 148, 190}, 70);      // waist
    if (seated_) return with_ellipsoid(d, q, {-14, 0, hips}, {120, 172, 100}, 60);
    return with_ellipsoid(d, q, {-8, 0, hips}, {108, 164, 150}, 60);
}

float Clothes::sleeve(float d, const Vec3& q) const {
    const Joints& j = joints_;
    // The cuff stops short of the wrist.
    const Vec3 cuff = j.wrist + (j.elbow - j.wrist).normalized() * 32;
    return joined(d, with_limb(limb(q, j.shoulder, j.elbow, 50, 43, d + 44 + 22), q, j.elbow, cuff, 43, 34, 22), 44);
}

float Clothes::trouser_leg(const Vec3& q) const {
    const Joints& j = joints_;
    float d = limb(q, j.hip, j.knee, seated_ ? 82 : 84, 57);
    d = with_limb(d, q, j.knee, j.ankle + Vec3(0, 0, 22), 54, 48, 40);
    if (!seated_) return d;
    return with_ellipsoid(d, q, (j.hip * 0.55F + j.knee * 0.45F) + Vec3(0, 0, -4), {180, 84, 74}, 30);
}

float Clothes::shoe(float d, const Vec3& q) const {
    const Vec3 a = joints_.ankle;
    const float sole = joints_.sole;
    if (q.z > sole + 150 + std::max(d, 0.0F)) return d;
    float s = ellipsoid(q, {a.x + 62, a.y + 6, sole + 24}, {128, 43, 38});
    s = with_limb(s, q, {a.x - 8, a.y, sole + 38}, {a.x, a.y, sole + 92}, 42, 44, 30);
    return joined(d, common(s, sole - q.z, 6), 4);
}

/// Cloth hangs and gathers: shallow folds where limbs bend and at the waist.
float Clothes::folds(const Vec3& p, const Vec3& q) const {
    const Joints& j = joints_;
    float f = 0;
    const auto fold = [&](float depth, const Vec3& middle, const Vec3& size, const auto& phase) {
        const float share = dab(q, middle, size);
        if (share == 0) return;
        const float a = phase();
        f += depth * share * (std::sin(a) + 0.5F * std::sin(1.7F * a + 1.1F));
    };
    fold(2.4F, j.elbow + Vec3(20, -12, 0), {60, 50, 70},
         [&] { return (q - j.elbow).dot((j.elbow - j.shoulder).normalized()) / 8.5F + 0.03F * q.x + p.y * 0.004F; });
    fold(2.0F, j.shoulder + Vec3(20, -50, -80), {70, 50, 80},
         [&] { return (q.z * 0.6F + q.y * 0.6F - q.x * 0.3F) / 12; });
    fold(seated_ ? 3.4F : 2.0F, {70, 80, seated_ ? shape_.seat + 205 : -400.0F}, {90, 110, 70},
         [&] { return (q.z + 0.35F * q.y + 6 * std::sin(p.y / 60)) / 12; });
    // Behind a straight knee, over a bent one.
    fold(seated_ ? 1.6F : 1.3F, j.knee + (seated_ ? Vec3(-30, 0, 40) : Vec3(-40, 0, 10)), {60, 60, 60},
         [&] { return (q.x * 0.5F + q.z) / 11 + 0.02F * q.y; });
    fold(1.8F, j.ankle + Vec3(30, 10, 50), {60, 60, 50}, [&] { return (q.z + 0.4F * q.y) / 10 + 0.03F * q.x; });
    return f;
}

float Clothes::operator()(const Vec3& p) const {
    const Vec3 q = one_sided(p);
    float d = sleeve(trunk(p), q);
    float legs = trouser_leg(q);
    if (seated_) {
        d = joined(d, legs, 24);
    } else {
        // The shirt hangs a finger's breadth outside the trousers.
        constexpr float hem = -640;
        const float shirt = common(with_ellipsoid(d, q, {-6, 0, -580}, {116, 172, 190}, 40), hem - q.z, 8);
        legs = with_ellipsoid(legs, q, {-8, 0, -580}, {106, 162, 130}, 40);
        d = joined(shirt, legs, 3);
    }
    if (std::abs(d) < 25) d += folds(p, q);  // they matter at the surface only
    return shoe(d, q);
}

float Clothes::toes() const {
    return std::max(joints_.ankle.x, 432.0F) + 215;
}

Hands::Hands(const BodyShape& shape) {
    const Joints j(shape);
    wrist_ = j.wrist;
    forearm_ = (j.wrist - j.elbow).normalized();
    along_ = j.fingers;
    palm_ = (j.palm - along_ * along_.dot(j.palm)).normalized();
    // For the left hand with the palm down and the fingers ahead the thumb is on the right: palm x along.
    side_ = palm_.cross(along_);
    constexpr float across[4] = {28, 9.5F, -9.5F, -27}, length[4] = {68, 78, 72, 54};
    for (int f = 0; f < 4; ++f)
        finger_[f] = {at(86 - (f == 3 ? 8.0F : 0.0F), across[f], 2), at(86 + 0.55F * length[f], across[f] * 1.08F, 8),
                      at(84 + length[f], across[f] * 1.05F, 20)};
    thumb_ = {at(28, 30, 8), at(62, 52, 14), at(92, 56, 16)};
}

float Hands::operator()(const Vec3& p) const {
    const Vec3 q{p.x, std::abs(p.y), p.z};
    float d = limb(q, wrist_ - forearm_ * 40, at(14, 0, 0), 26, 24);
    // The palm: a flattened limb in the hand's own frame.
    const Vec3 r = q - at(55, 0, 2);
    const Vec3 e(r.dot(along_), r.dot(side_), r.dot(palm_));
    d = with_ellipsoid(d, e, {0, 0, 0}, {56, 42, 17}, 18);
    for (const Finger& f : finger_) {
        const float finger = limb(q, f.knuckle, f.middle, 9.5F, 8.5F, d + 5 + 4);
        d = joined(d, with_limb(finger, q, f.middle, f.tip, 8.5F, 7, 4), 5);
    }
    d = with_limb(d, q, thumb_.knuckle, thumb_.middle, 15, 11, 14);
    return with_limb(d, q, thumb_.middle, thumb_.tip, 10.5F, 8, 5);
}

}  // namespace rushlight
