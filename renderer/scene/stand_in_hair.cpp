// Hair as a coat over the skull that rises out of the skin along the hairline, combed from a whorl at the
// back of the crown.
#include "scene/stand_in_clay.h"
#include "scene/stand_in_head.h"

namespace rushlight {

using namespace clay;

namespace {

/// Skull and nape without ears, neck muscles and features.
float scalp(const Vec3& q) {
    float d = ellipsoid(q, {-9, 0, 31}, {90, 75, 81});
    d = joined(d, ellipsoid(q, {41, 0, 44}, {51, 54, 54}), 36);
    d = joined(d, limb(q, {-14, 0, -70}, {-40, 0, -212}, 44, 46), 26);
    return joined(d, ellipsoid(q, {38, 0, -34}, {48, 55, 62}), 26);
}

/// How far a point lies behind the hairline: brow, temples, sideburns, round the ears, nape.
float behind_hairline(const Vec3& p) {
    const float side = std::abs(p.y);
    // A plane that falls from the brow to the back, pushed up at the temples.
    const float over_brow = (p.x - 82) * -0.50F + (p.z - 68) * 0.866F -
                            7 * std::exp(-std::pow((side - 44) / 16, 2.0F)) + 3 * std::exp(-side * side / 300);
    const float behind_ear = std::min(-30 - p.x - 0.20F * (p.z + 20), p.z + 90);
    const float sideburn = std::min({25 - p.x, p.x + 5, p.z + 20});
    return -joined(joined(-over_brow, -behind_ear, 14), -sideburn, 10);
}

float wave(float a) {
    return std::sin(a);
}

/// Locks and strands: ridges that run away from the whorl, uneven in width and a little wavy.
float strands(const Vec3& p) {
    const Vec3 axis = Vec3(-0.52F, 0.12F, 0.85F).normalized();
    const Vec3 r = p - Vec3(-8, 0, 10);
    const Vec3 across = Vec3(0, 1, 0).cross(axis).normalized(), along = axis.cross(across);
    const float up = r.dot(axis) / r.length();
    const float from_whorl = std::acos(std::clamp(up, -1.0F, 1.0F));
    const float x = r.dot(across), y = r.dot(along);
    float turn = std::atan2(y, x);
    turn += 0.35F * from_whorl + 0.10F * wave(5.0F * from_whorl + 2.0F * turn);  // the whorl's spin, and a wave
    const float width = std::sqrt(std::max(1 - up * up, 0.0F));
    const float locks = wave(17 * turn + 1.5F * wave(3 * turn) + 1.2F * wave(2.1F * from_whorl + 4 * turn));
    const float fine = wave(43 * turn + 2.2F * wave(7 * turn + 1.3F * from_whorl));
    return ramp(0.10F, 0.5F, width) * (1.25F * locks + 0.5F * fine);
}

}  // namespace

float head_hair(const Vec3& p) {
    const float inner = scalp({p.x, std::sqrt(p.y * p.y + 4.0F) - 1.0F, p.z});
    if (inner > 60) return inner;
    const float h = behind_hairline(p);
    if (inner < -40) return std::max(inner, -9 - h);
    // Full on top and in front, close at the sides and the nape.
    float full = 12 + 12 * ramp(30, 95, p.z) + 5 * ramp(20, 80, p.x) * ramp(40, 90, p.z) - 5 * ramp(-20, -80, p.z);
    full += strands(p);
    // The parting, on the left.
    full -= 5 * std::exp(-std::pow((p.y - 30) / 5, 2.0F)) * ramp(-30, 10, p.x) * ramp(40, 70, p.z);
    const float thick = -7 + (full + 7) * ramp(-7, 24, h);
    return common(inner - thick, -9 - h, 4);  // and nothing of it under the face
}

float eyebrows(const Vec3& p) {
    const Vec3 q{p.x, std::abs(p.y), p.z};
    if (q.x < 50 || q.y > 60 || q.z < 5 || q.z > 40) return 20;
    const float d = head_skin(p);
    // A shallow arch, thick at the nose and thin at the temple.
    const float along = (q.y - 12) / 38;
    const float arch = 18.5F + 5.0F * std::sin(2.3F * std::clamp(along, -0.3F, 1.2F));
    const float half = 4.8F - 2.4F * std::clamp(along, 0.0F, 1.0F);
    const float across = (q.z - arch) / half;
    const float ends = ramp(-0.12F, 0.08F, along) * ramp(1.10F, 0.80F, along);
    const float hairs = 0.12F * std::sin(1.5F * q.y + 1.1F * q.z);
    const float thick = -2.2F + (3.2F + hairs) * ends * std::exp(-across * across);
    // Not deep, and only where there are hairs.
    const float patch = std::max({std::abs(q.z - arch) - 2.2F * half, 6 - q.y, q.y - 56, -5 - d});
    return std::max(d - thick, patch);
}

}  // namespace rushlight
