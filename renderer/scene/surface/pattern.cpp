#include "scene/surface/pattern.h"

#include "scene/surface/chance.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace rushlight {

namespace {

/// Sizes in metres as such things are sold, from memory: a brick of 215 x 65 mm in 10 mm of mortar, boards of 140 mm.
struct Look {
    float length = 0, height = 0;  // from joint to joint; 0: no joints
    float joint = 0;               // their width
    float contrast = 0;            // of the shades: 1 -+ contrast
    float joint_on_pale = 1, joint_on_dark = 1;
};

constexpr Look look_of(PatternKind kind) {
    switch (kind) {
        case PatternKind::brick:
            return {0.225F, 0.075F, 0.010F, 0.26F, 0.84F, 1.5F};
        case PatternKind::stone:
            return {0.60F, 0.30F, 0.008F, 0.14F, 0.7F, 0.8F};
        case PatternKind::boards:
            return {2.4F, 0.14F, 0.003F, 0.26F, 0.3F, 0.3F};
        case PatternKind::tiles:
            return {0.15F, 0.15F, 0.003F, 0.05F, 0.8F, 2.0F};
        case PatternKind::chequer:
            return {0, 0, 0, 0.9F, 1, 1};
        case PatternKind::books:
            return {0.034F, 0.32F, 0.004F, 0.65F, 0.3F, 0.3F};
        case PatternKind::plaster:
            return {0, 0, 0, 0.06F, 1, 1};
        case PatternKind::wood:
            return {0, 0, 0, 0.30F, 1, 1};
        case PatternKind::carpet:
            return {0, 0, 0, 0.22F, 1, 1};
        case PatternKind::foliage:
            return {0, 0, 0, 0.6F, 1, 1};
        case PatternKind::none:
            break;
    }
    return {};
}

constexpr float highest_reflectance = 0.97F;
// Above this a joint is darker than the body, below it paler.
constexpr double pale = 0.3;

std::uint32_t number(int i, int j, int k = 0) {
    return static_cast<std::uint32_t>(i) * 0x9E3779B1U ^ static_cast<std::uint32_t>(j) * 0x85EBCA77U ^
           static_cast<std::uint32_t>(k) * 0xC2B2AE3DU;
}

float smooth(float t) {
    return t * t * (3 - 2 * t);
}

/// Even hills and valleys about a metre wide, 0 to 1 and as often over one half as under it.
float hills(const Vec3& p, std::uint32_t which) {
    const float x = std::floor(p.x), y = std::floor(p.y), z = std::floor(p.z);
    const int i = static_cast<int>(x), j = static_cast<int>(y), k = static_cast<int>(z);
    const float u = smooth(p.x - x), v = smooth(p.y - y), w = smooth(p.z - z);
    const auto at = [&](int a, int b, int c) { return chance(number(i + a, j + b, k + c), which); };
    const auto row = [&](int b, int c) { return at(0, b, c) * (1 - u) + at(1, b, c) * u; };
    const auto sheet = [&](int c) { return row(0, c) * (1 - v) + row(1, c) * v; };
    return sheet(0) * (1 - w) + sheet(1) * w;
}

/// Further from the middle, on both sides alike.
float spread(float value, float times) {
    return std::clamp(0.5F + (value - 0.5F) * times, 0.0F, 1.0F);
}

/// Place on a flat side: `across` along its courses, `up` over them.
struct OnSide {
    float across, up;
};

OnSide on_side(const Vec3& p, const Vec3& n, int along) {
    const float ax = std::abs(n.x), ay = std::abs(n.y), az = std::abs(n.z);
    if (az >= ax && az >= ay) return along == 1 ? OnSide{p.y, p.x} : OnSide{p.x, p.y};
    return {ax > ay ? p.y : p.x, p.z};
}

struct Cell {
    int column, row;
    bool joint;
};

/// Courses one over the other, each moved along by `shift` of a length, or by chance where that is negative.
Cell cell_at(const OnSide& s, const Look& look, float shift) {
    const float row = std::floor(s.up / look.height);
    const int r = static_cast<int>(row);
    const float moved = shift < 0 ? chance(number(r, 7), 1) : (r % 2 != 0 ? shift : 0.0F);
    const float along = s.across / look.length + moved, column = std::floor(along);
    const bool joint = (along - column) * look.length < look.joint || s.up - row * look.height < look.joint;
    return {static_cast<int>(column), r, joint};
}

/// A rod of sapwood: rings about a bent axis along z, and fine streaks.
float grain(const Vec3& p, std::uint32_t which) {
    const float bend = hills(Vec3(p.x * 4, p.y * 4, p.z * 0.7F), which) * 2.5F;
    const float rings = 0.5F + 0.5F * std::sin(6.2831853F * (p.x * 9 + p.y * 23 + bend));
    const float streaks = hills(Vec3(p.x * 260, p.y * 260, p.z * 5), which + 1);
    return 0.45F * rings + 0.55F * spread(streaks, 1.5F);
}

Vec3 with_z_along(const Vec3& p, int along) {
    return along == 0 ? Vec3(p.y, p.z, p.x) : along == 1 ? Vec3(p.x, p.z, p.y) : p;
}

/// 0 to 1, as often over one half as under it; the joints are negative.
float shade_at(PatternKind kind, const Vec3& p, const Vec3& n, int along) {
    const Look look = look_of(kind);
    const OnSide side = on_side(p, n, along);
    switch (kind) {
        case PatternKind::brick:
        case PatternKind::stone: {
            const Cell c = cell_at(side, look, 0.5F);
            if (c.joint) return -1;
            const float own = chance(number(c.column, c.row), kind == PatternKind::brick ? 2 : 3);
            return 0.6F * own + 0.25F * hills(p * 70, 4) + 0.15F * hills(p * 9, 5);
        }
        case PatternKind::boards: {
            const Cell c = cell_at(side, look, -1);
            if (c.joint) return -1;
            const std::uint32_t board = number(c.column, c.row);
            const Vec3 q(side.up + 0.31F * static_cast<float>(board % 97), chance(board, 6), side.across);
            return 0.5F * chance(board, 7) + 0.5F * grain(q, 8);
        }
        case PatternKind::tiles: {
            const Cell c = cell_at(side, look, 0);
            return c.joint ? -1 : chance(number(c.column, c.row), 9);
        }
        case PatternKind::chequer: {
            constexpr float side_of_one = 0.3F;
            const int i = static_cast<int>(std::floor(side.across / side_of_one));
            const int j = static_cast<int>(std::floor(side.up / side_of_one));
            return (i + j) % 2 != 0 ? 1.0F : 0.0F;
        }
        case PatternKind::books: {
            const Cell c = cell_at(side, look, -1);
            return c.joint ? -1 : chance(number(c.column, c.row), 10);
        }
        case PatternKind::plaster:
            return 0.6F * spread(hills(p * 1.7F, 11), 1.6F) + 0.25F * spread(hills(p * 9, 12), 1.5F) +
                   0.15F * hills(p * 60, 13);
        case PatternKind::wood:
            return grain(with_z_along(p, along), 14);
        case PatternKind::carpet:
            return 0.65F * hills(p * 170, 16) + 0.35F * spread(hills(p * 11, 17), 1.5F);
        case PatternKind::foliage:
            return 0.5F * spread(hills(p * 22, 18), 1.6F) + 0.5F * spread(hills(p * 5, 19), 1.6F);
        case PatternKind::none:
            break;
    }
    return 0.5F;
}

}  // namespace

Pattern::Pattern(PatternKind kind, const PatternLie& lie)
    : kind_(kind), lie_(lie), cosine_(std::cos(lie.turn)), sine_(std::sin(lie.turn)) {}

std::uint32_t Pattern::tone_at(const Vec3& position, const Vec3& normal) const {
    const auto turned = [&](const Vec3& v) {
        return Vec3(v.x * cosine_ + v.y * sine_, v.y * cosine_ - v.x * sine_, v.z);
    };
    const float shade = shade_at(kind_, turned(position - lie_.origin), turned(normal), lie_.along);
    if (shade < 0) return shades;
    return std::min(static_cast<std::uint32_t>(shade * static_cast<float>(shades)), shades - 1);
}

float joints_of(PatternKind kind) {
    const Look look = look_of(kind);
    if (look.joint <= 0) return 0;
    return 1 - (1 - look.joint / look.length) * (1 - look.joint / look.height);
}

std::vector<Finish> tones_of(const Finish& finish) {
    const float highest = finish.reflectance.largest();
    if (finish.pattern == PatternKind::none || finish.pane || highest <= 0 || !finish.metal.dark() ||
        !finish.through.dark() || !finish.straight.dark())
        return {};
    const Look look = look_of(finish.pattern);
    const float area = joints_of(finish.pattern);
    const bool is_pale = luminous_share(finish.reflectance, equal_energy()) > pale;
    // No tone sends back more than arrives: of a very pale finish all are alike.
    const float most = std::max(1.0F, highest_reflectance / highest);
    float joint = 1;
    if (area > 0)
        joint = std::clamp(is_pale ? look.joint_on_pale : look.joint_on_dark, (1 - (1 - area) * most) / area, most);
    const float body = (1 - area * joint) / (1 - area);
    const float contrast = std::clamp(most / body - 1, 0.0F, look.contrast);
    std::vector<Finish> tones(Pattern::tones, finish);
    for (std::uint32_t i = 0; i < Pattern::shades; ++i) {
        const float middle = (static_cast<float>(i) + 0.5F) / static_cast<float>(Pattern::shades);
        tones[i].reflectance = finish.reflectance * (body * (1 + contrast * (2 * middle - 1)));
    }
    tones[Pattern::shades].reflectance = finish.reflectance * joint;
    return tones;
}

}  // namespace rushlight
