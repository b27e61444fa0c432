#include "scene/figure/head.h"

#include "scene/figure/clay.h"

namespace rushlight {

using namespace clay;

const HeadSize& head_size() {
    static const HeadSize measures;
    return measures;
}

namespace {

/// The person's right half is modelled as the left one, rounded over at the middle.
Vec3 one_sided(const Vec3& p) {
    return {p.x, std::sqrt(p.y * p.y + 4.0F) - 1.0F, p.z};
}

/// Skull, jaw and cheekbones under the features.
float skull(const Vec3& q) {
    float d = ellipsoid(q, {-9, 0, 31}, {90, 75, 81});              // braincase
    d = with_ellipsoid(d, q, {41, 0, 44}, {51, 54, 54}, 36);        // forehead
    d = with_ellipsoid(d, q, {37, 0, -36}, {49, 56, 64}, 28);       // middle of the face
    d = with_limb(d, q, {58, 43, -23}, {14, 58, -18}, 13, 9, 26);   // cheekbone and its arch
    d = with_limb(d, q, {30, 49, -30}, {22, 42, -72}, 13, 12, 24);  // chewing muscle
    d = with_ellipsoid(d, q, {64, 0, -66}, {33, 30, 32}, 24);       // teeth
    d = with_limb(d, q, {20, 41, -72}, {79, 8, -102}, 12, 12, 28);  // jaw
    d = with_ellipsoid(d, q, {83, 0, -103}, {15, 18, 14}, 16);      // chin
    d = with_ellipsoid(d, q, {42, 0, -78}, {44, 40, 30}, 22);       // floor of the mouth
    d -= 3.5F * dab(q, {73, 37, -44}, {18, 16, 19});                // cheek
    return d + 2.0F * dab(q, {54, 60, 22}, {20, 16, 22});           // temple
}

float neck(const Vec3& q) {
    float d = limb(q, {-14, 0, -70}, {-38, 0, -186}, 44, 49);
    d = with_limb(d, q, {-38, 0, -186}, {-48, 0, -300}, 49, 66, 20);
    d = with_limb(d, q, {-18, 47, -50}, {10, 14, -214}, 8, 6, 20);     // from behind the ear to the breastbone
    d = with_limb(d, q, {-48, 20, -60}, {-60, 48, -220}, 10, 14, 30);  // down to the shoulder
    d = with_limb(d, q, {-52, 0, -15}, {-37, 0, -110}, 30, 28, 26);    // nape, under the back of the skull
    d -= 4.0F * dab(q, {24, 0, -150}, {14, 11, 14});                   // larynx
    return d + 5.0F * dab(q, {18, 5, -212}, {12, 9, 13});              // hollow over the breastbone
}

float brow_and_sockets(float d, const Vec3& q) {
    if (q.z < -50 || q.z > 60) return d;
    d = with_limb(d, q, {84, 9, 15}, {66, 42, 18}, 8, 5, 22);
    d = without_ellipsoid(d, q, {99, 28, -2}, {20, 19, 13}, 18);
    return d + 1.6F * stroke(q, {84, 18, -14}, {76, 34, -19}, 7);  // under the eye
}

float nose(float d, const Vec3& q) {
    if (q.y > 60 || q.z > 50 || q.z < -90) return d;
    float n = limb(q, {88, 0, 6}, {106, 0, -36}, 6.0F, 8.0F);      // bridge
    n = with_limb(n, q, {78, 4, 4}, {91, 8, -42}, 8, 10, 16);      // its sides
    n = with_ball(n, q, {109.5F, 0, -41}, 8.6F, 8);                // tip
    n = with_ellipsoid(n, q, {99, 11.5F, -46}, {10, 6, 7.2F}, 7);  // wings
    n = with_limb(n, q, {110, 0, -48}, {97, 0, -53}, 3.6F, 5, 6);  // between the nostrils
    d = joined(d, n, 13);
    d += 1.2F * stroke(q, {88, 19.5F, -44}, {94, 17, -53}, 3.4F);             // crease behind the wing
    return without_ellipsoid(d, q, {103, 6.4F, -53}, {6.5F, 3.4F, 6}, 4.5F);  // nostril
}

float mouth(float d, const Vec3& q) {
    if (q.z > -30 || q.z < -115 || q.y > 60) return d;
    d += 4.0F * dab(q, {98, 0, -91}, {14, 20, 6});           // over the chin
    d += 1.3F * stroke(q, {92, 24, -52}, {84, 36, -74}, 6);  // fold from nose to mouth
    d += 1.6F * dab(q, {86, 27, -75}, {8, 5, 5});            // corner
    const float front = ramp(55, 80, q.x);
    if (front == 0) return d;
    if (q.z > -70) {  // furrow under the nose, between two faint ridges
        const float here = front * ramp(-50, -56, q.z);
        d += here * 1.1F * bell(q.y * q.y / 10) * ramp(-66, -62, q.z);
        d -= here * 0.8F * bell((q.y - 6) * (q.y - 6) / 8) * ramp(-68, -63, q.z);
    }
    // The line between the lips falls a little to its ends, and rises a little in the middle.
    const float along = std::min(q.y / 26, 1.4F);
    const float up = q.z + 73 + 1.8F * along * along - 0.8F * bell(q.y * q.y / 30);
    if (q.y > 36 || std::abs(up) > 24) return d;
    const auto ridge = [&](float middle, float width) { return bell((up - middle) * (up - middle) / (width * width)); };
    const auto power = [](float x, int n) {
        float product = x;
        for (int i = 1; i < n; ++i) product *= x;
        return product;
    };
    const float bow = 1.2F * bell((q.y - 6) * (q.y - 6) / 20);
    const float full = 1 - 0.62F * along * along;
    d -= front * bell(power(q.y / 25, 6)) * full * (3.6F * ridge(5.8F + bow, 4.2F) + 4.8F * ridge(-6.8F, 5.2F));
    return d + front * bell(power(q.y / 24.5F, 8)) * 2.3F * ridge(0, 2.0F);
}

float lids(float d, const Vec3& q) {
    const HeadSize& m = head_size();
    const Vec3 e = q - m.eye;
    if (e.length2() > 40 * 40) return d;
    // The almond between the lids, negative inside; its outer corner stands two millimetres higher.
    const float tilted = e.z - 0.07F * e.y;
    const float s = std::clamp(e.y / 14.5F, -1.3F, 1.3F);
    const float upper = 4.1F * (1 - s * s) * (1 + 0.12F * s), lower = -4.9F * (1 - s * s) * (1 - 0.1F * s);
    const float almond = std::max(tilted - upper, lower - tilted);
    d = with_ball(d, q, m.eye, 13.2F, 7);
    // Between the lids the skin drops below the eyeball; the lid's edge is a step of two millimetres.
    const float open = ramp(0.9F, -0.9F, almond) * ramp(-2, 4, e.x);
    return d + (ball(q, m.eye, m.eye_radius - 1.0F) - d) * open;
}

/// Up the ear's length, back across it, out of the head.
struct EarFrame {
    Vec3 up = Vec3(-0.20F, 0.06F, 1).normalized();
    Vec3 out = (Vec3(0.34F, 0.94F, 0.10F) - up * up.dot(Vec3(0.34F, 0.94F, 0.10F))).normalized();
    Vec3 back = out.cross(up);  // to the back for the left ear
};

float ear(float d, const Vec3& q) {
    static const EarFrame frame;
    const Vec3 r = q - Vec3(-10, 71, -19);
    if (r.length2() > 50 * 50) return d;
    const Vec3 e(r.dot(frame.back), r.dot(frame.up), r.dot(frame.out));
    // Wide above, narrow at the lobe.
    const float half_width = 16.5F - 4.0F * ramp(8, -26, e.y);
    const float u = e.x / half_width, v = e.y / 30;
    const float round = std::sqrt(u * u + v * v) + 1e-3F;
    float plate = ellipsoid(e, {0, 0, 3}, {half_width, 30, 4.6F});
    const float rim = (round - 0.86F) * 17;
    plate -= 2.6F * bell(rim * rim / 9) * ramp(-24, -12, e.y);  // rim
    const float inner = (round - 0.52F) * 17;
    plate -= 1.3F * bell(inner * inner / 10) * ramp(-8, 4, e.y) * ramp(-8, 2, e.x);  // second fold
    plate += 3.2F * dab(e, {-3, -5, 5}, {8, 11, 8});                                 // hollow before the canal
    plate = with_ellipsoid(plate, e, {-2, -23, 2.5F}, {8, 8, 4}, 6);                 // lobe
    plate = with_ball(plate, e, {-12.5F, -5, 2.5F}, 4.0F, 5);                        // in front of the canal
    return joined(d, plate, 6);
}

}  // namespace

float NeckFit::share_at(float z) const {
    return 1 - (1 - share) * ramp(-95, -195, z);
}

namespace {
Vec3 neck_axis(float z) {
    return {-14 + 0.15F * (z + 70), 0, z};
}
}  // namespace

Vec3 NeckFit::fitted(const Vec3& p) const {
    const Vec3 axis = neck_axis(p.z);
    return axis + (p - axis) * share_at(p.z);
}
Vec3 NeckFit::unfitted(const Vec3& p) const {
    const Vec3 axis = neck_axis(p.z);
    return axis + (p - axis) / share_at(p.z);
}

namespace {
Vec3 turned(const Vec3& v, float turn, float tilt) {
    const float c = std::cos(tilt), s = std::sin(tilt);
    const Vec3 nodded(v.x * c - v.z * s, v.y, v.x * s + v.z * c);
    const float ct = std::cos(turn), st = std::sin(turn);
    return {nodded.x * ct - nodded.y * st, nodded.x * st + nodded.y * ct, nodded.z};
}
const Vec3 atlas(-22, 0, -52);  // between the ears' lower ends, about where a skull nods on its spine
}  // namespace

Vec3 HeadPose::posed(const Vec3& p, float share) const {
    if (turn == 0 && tilt == 0) return p;
    return atlas + turned(p - atlas, turn * share, tilt * share);
}
Placement HeadPose::whole() const {
    if (turn == 0 && tilt == 0) return {};
    const auto axis = [&](const Vec3& v) { return turned(v, turn, tilt); };
    return {axis({1, 0, 0}), axis({0, 1, 0}), axis({0, 0, 1}), 1, posed({0, 0, 0}, 1)};
}
float HeadPose::share_at(float z) {
    return ramp(-200, -70, z);
}

float bare_head(const Vec3& p) {
    const Vec3 q = one_sided(p);
    const float d = skull(q);
    return q.z < 40 ? joined(d, neck(q), 26) : d;
}

float head_skin(const Vec3& p) {
    float d = bare_head(p);
    const Vec3 q = one_sided(p);
    if (q.x > 30) {
        d = brow_and_sockets(d, q);
        d = nose(d, q);
        d = mouth(d, q);
        d = lids(d, q);
    }
    return ear(d, q);
}

}  // namespace rushlight
