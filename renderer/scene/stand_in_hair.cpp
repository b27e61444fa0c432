// Hair as a coat over the head that rises gently out of the skin behind an uneven hairline, in locks combed from a
// whorl at the back of the crown.
#include "scene/stand_in_clay.h"
#include "scene/stand_in_head.h"

#include "quantity/units.h"

#include <cstdint>

namespace rushlight {

using namespace clay;

namespace {

/// How far a point lies behind the hairline: brow, temples, sideburns, round the ears, nape.
float behind_hairline(const Vec3& p) {
    const float side = std::abs(p.y);
    // A plane that falls from the brow to the back, pushed up at the temples.
    const float over_brow = (p.x - 82) * -0.50F + (p.z - 68) * 0.866F - 7 * bell((side - 44) * (side - 44) / 256) +
                            3 * bell(side * side / 300);
    // The nape's line is highest behind the ears.
    const float nape = p.z + 84 - 0.35F * ramp(10, 60, side) * side;
    const float behind_ear = common(p.x + 30 - 0.25F * (p.z + 20), -nape, 16);
    const float sideburn = joined(joined(25 - p.x, p.x + 12, 10), p.z + 20, 8);
    return -joined(joined(-over_brow, behind_ear, 14), -sideburn, 16);
}

/// Uneven from -1 to 1, smooth: values at whole numbers (an integer hash) with blends between. `a` repeats after
/// `around`.
float uneven(float a, float b, int around) {
    const auto value = [around](int i, int j) {
        std::uint32_t h = static_cast<std::uint32_t>((i % around + around) % around) * 374761393U +
                          static_cast<std::uint32_t>(j + 64) * 668265263U;
        h = (h ^ h >> 13U) * 1274126177U;
        h ^= h >> 16U;
        return static_cast<float>(h & 0xFFFFU) / 32767.5F - 1;
    };
    const float a0 = std::floor(a), b0 = std::floor(b);
    const int i = static_cast<int>(a0), j = static_cast<int>(b0);
    const float s = ramp(0, 1, a - a0), t = ramp(0, 1, b - b0);
    const float low = value(i, j) + (value(i + 1, j) - value(i, j)) * s;
    const float high = value(i, j + 1) + (value(i + 1, j + 1) - value(i, j + 1)) * s;
    return low + (high - low) * t;
}

/// Where a point lies in the fall of the hair: round the whorl, and how far out from it.
struct Fall {
    float turn;   // of a whole circle
    float out;    // radians from the whorl
    float width;  // of the circle there, 1 a quarter turn out
    explicit Fall(const Vec3& p) {
        static const Vec3 whorl = Vec3(-0.52F, 0.12F, 0.85F).normalized();
        static const Vec3 across = Vec3(0, 1, 0).cross(whorl).normalized(), along = whorl.cross(across);
        const Vec3 r = p - Vec3(-8, 0, 10);
        const float up = r.dot(whorl) / std::max(r.length(), 1e-3F);
        out = std::acos(std::clamp(up, -1.0F, 1.0F));
        width = std::sqrt(std::max(1 - up * up, 0.0F));
        const float angle = std::atan2(r.dot(along), r.dot(across)) + 0.35F * out;  // the whorl's spin
        turn = angle * static_cast<float>(0.5 / pi);
    }
    /// Strands, so many to the circle, each one wavering a little and changing along its way.
    float strands(int many, float changes) const {
        const float waver = 0.012F * uneven(turn * 9, out * 2, 9);
        return uneven((turn + waver) * static_cast<float>(many), out * changes, many);
    }
};

}  // namespace

float head_hair(const Vec3& p) {
    const float inner = bare_head(p);
    constexpr float thickest = 30;
    if (inner > thickest + 12) return inner - thickest;
    const float h = behind_hairline(p);
    const float under_face = -9 - h;  // nothing of it under the face
    if (inner < -14) return std::max(inner, under_face);
    if (under_face > 12) return std::max(inner - thickest, under_face);
    const Fall fall(p);
    const float locks = fall.strands(47, 2), fine = fall.strands(120, 4);
    // The edge comes and goes with the locks, and with their tips.
    const float ragged = h + ramp(50, 8, h) * (3.4F * locks + 2.4F * fine + 0.7F * fall.strands(260, 9));
    // Full on top and in front, close at the sides and the nape.
    float full = 7 + 13 * ramp(30, 95, p.z) + 3 * ramp(20, 80, p.x) * ramp(40, 90, p.z) - 3 * ramp(-20, -80, p.z);
    full += full * (0.12F * ramp(0.2F, 0.6F, fall.width) * locks + 0.06F * ramp(0.45F, 0.9F, fall.width) * fine);
    // The parting, on the left.
    full -= 3 * bell((p.y - 30) * (p.y - 30) / 25) * ramp(-30, 10, p.x) * ramp(40, 70, p.z);
    const float thick = joined(std::max(0.40F * ragged, -5.0F), full, 9);
    return common(inner - thick, under_face, 4);
}

float eyebrows(const Vec3& p) {
    const Vec3 q{p.x, std::abs(p.y), p.z};
    if (q.x < 50 || q.y > 60 || q.z < 5 || q.z > 40) return 20;
    // A shallow arch, thick at the nose and thin at the temple.
    const float along = (q.y - 12) / 38;
    const float arch = 18.5F + 5.0F * std::sin(2.3F * std::clamp(along, -0.3F, 1.2F));
    const float half = 4.8F - 2.4F * std::clamp(along, 0.0F, 1.0F);
    const float across = (q.z - arch) / half;
    const float d = head_skin(p);
    const float ends = ramp(-0.12F, 0.08F, along) * ramp(1.10F, 0.80F, along);
    const float hairs = 0.3F * uneven(0.4F * (q.y + 0.7F * q.z), 0.12F * q.z, 64);
    const float thick = -1.3F + (1.9F + hairs) * ends * std::exp(-across * across);
    // Not deep, and only where there are hairs.
    const float patch = std::max({std::abs(q.z - arch) - 2.2F * half, 6 - q.y, q.y - 56, -5 - d});
    return std::max(d - thick, patch);
}

}  // namespace rushlight
