// Furniture of rooms.
#include "scene/surface/chance.h"
#include "scene/furniture/joinery.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace rushlight {

namespace {

constexpr float seat_height = 0.46F, board = 0.025F;

Finish plain_finish(std::string name, double reflectance, const char* hue) {
    Finish f;
    f.name = std::move(name);
    f.reflectance = reflectance_of(hue, reflectance).value();
    return f;
}

/// Where one sits on something this high with a back.
float seat_of(const Joinery& j) {
    return std::min(seat_height, 0.55F * j.height);
}

/// Pieces of about `wanted` that fill `length`.
int count_of(float length, float wanted) {
    return std::max(1, static_cast<int>(std::lround(length / wanted)));
}

/// The front of a drawer or a door, with a gap round it and a knob.
void front(Joinery& j, const Finish& knob, const Vec3& least, const Vec3& most, bool door) {
    constexpr float gap = 0.003F, proud = 0.014F, knob_size = 0.012F;
    const float face = least.y;
    j.block({least.x + gap, face, least.z + gap}, {most.x - gap, face + proud, most.z - gap});
    const Vec3 at(door ? most.x - 0.045F : (least.x + most.x) / 2, face,
                  door ? std::min(most.z - 0.06F, least.z + 0.75F * (most.z - least.z)) : (least.z + most.z) / 2);
    const Vec3 half(knob_size, knob_size, knob_size);
    j.cushion(knob, at - half, at + half, knob_size);
}

}  // namespace

void make_table(Joinery& j) {
    const float top = std::min(0.035F, 0.1F * j.height), leg = std::clamp(0.05F * j.width, 0.04F, 0.08F);
    const float under = j.height - top, inset = 0.3F * leg, apron = std::min(0.09F, 0.15F * j.height);
    j.block({-j.width / 2, -j.depth / 2, under}, {j.width / 2, j.depth / 2, j.height});
    j.legs(under, leg, inset);
    const float x = j.width / 2 - inset - leg * 0.25F, y = j.depth / 2 - inset - leg * 0.25F, thick = 0.02F;
    for (const float s : {-1.0F, 1.0F}) {
        j.block({-x + leg * 0.75F, s * y - (s > 0 ? thick : 0), under - apron},
                {x - leg * 0.75F, s * y + (s > 0 ? 0 : thick), under});
        j.block({s * x - (s > 0 ? thick : 0), -y + leg * 0.75F, under - apron},
                {s * x + (s > 0 ? 0 : thick), y - leg * 0.75F, under});
    }
}

void make_stool(Joinery& j) {
    const float r = std::min(j.width, j.depth) / 2, top = std::min(0.035F, 0.2F * j.height), leg = 0.017F;
    j.post(j.own, {0, 0, j.height - top}, top, r * 0.97F, r);
    const float out = r * 0.72F;
    for (int i = 0; i < 4; ++i) {
        const float a = 0.7853982F + 1.5707963F * static_cast<float>(i);
        j.post(j.own, {out * std::cos(a), out * std::sin(a), 0}, j.height - top, leg * 0.8F, leg);
    }
    const float rung = 0.4F * j.height, side = out * 0.70710678F;
    for (const float s : {-1.0F, 1.0F}) j.post(j.own, {-side, s * side, rung}, 2 * side, 0.01F, 0.01F, true);
}

void make_chair(Joinery& j) {
    const float seat = seat_of(j), leg = 0.034F, x = j.width / 2, y = j.depth / 2;
    j.cushion(j.own, {-x, -y, seat - 0.035F}, {x, y - 0.02F, seat}, 0.012F);
    for (const float s : {-1.0F, 1.0F}) {
        const float x0 = s < 0 ? -x + 0.01F : x - 0.01F - leg;
        j.block({x0, -y + 0.02F, 0}, {x0 + leg, -y + 0.02F + leg, seat - 0.035F});
        j.block({x0, y - leg, 0}, {x0 + leg, y, j.height});
    }
    const int slats = count_of(j.height - seat, 0.14F);
    for (int i = 0; i < slats; ++i) {
        const float pitch = (j.height - seat) / static_cast<float>(slats);
        const float z = seat + pitch * (static_cast<float>(i) + 0.45F);
        j.block({-x + 0.01F + leg, y - 0.026F, z}, {x - 0.01F - leg, y - 0.008F, z + 0.5F * pitch});
    }
    const float rail = 0.5F * seat;
    for (const float s : {-1.0F, 1.0F})
        j.block({s * (x - 0.027F) - 0.01F, -y + 0.05F, rail}, {s * (x - 0.027F) + 0.01F, y - leg, rail + 0.025F});
}

void make_sofa(Joinery& j) {
    const float x = j.width / 2, y = j.depth / 2, seat = std::min(0.43F, 0.55F * j.height);
    const float arm = std::min(0.16F, 0.2F * j.width), back = 0.24F * j.depth, foot = std::min(0.10F, 0.15F * j.height);
    const Finish feet = plain_finish("sofa feet", 0.08, "brown");
    for (const float sx : {-1.0F, 1.0F})
        for (const float sy : {-1.0F, 1.0F}) j.post(feet, {sx * (x - 0.07F), sy * (y - 0.07F), 0}, foot, 0.02F, 0.03F);
    j.cushion(j.own, {-x + 0.02F, -y + 0.03F, foot}, {x - 0.02F, y - 0.02F, seat - 0.12F}, 0.03F);
    for (const float s : {-1.0F, 1.0F})
        j.cushion(j.own, {s < 0 ? -x : x - arm, -y, foot}, {s < 0 ? -x + arm : x, y - 0.02F, seat + 0.17F}, 0.06F);
    j.cushion(j.own, {-x + 0.02F, y - back * 0.6F, foot}, {x - 0.02F, y, j.height - 0.05F}, 0.05F);
    const float inner = j.width - 2 * arm;
    const int seats = count_of(inner, 0.65F);
    for (int i = 0; i < seats; ++i) {
        const float w = inner / static_cast<float>(seats), x0 = -x + arm + w * static_cast<float>(i);
        j.cushion(j.own, {x0 + 0.003F, -y + 0.01F, seat - 0.14F}, {x0 + w - 0.003F, y - back * 0.5F, seat}, 0.05F);
        j.cushion(j.own, {x0 + 0.006F, y - back, seat - 0.02F}, {x0 + w - 0.006F, y - back * 0.3F, j.height}, 0.075F);
    }
}

void make_bed(Joinery& j) {
    const float x = j.width / 2, y = j.depth / 2, top = std::min(0.52F, 0.75F * j.height);
    static const Finish linen = plain_finish("bed linen", 0.75, "neutral");
    static const Finish frame = plain_finish("bed frame", 0.18, "brown");
    j.block(frame, {-x, y - 0.04F, 0}, {x, y, j.height});
    j.block(frame, {-x, -y, 0.12F}, {x, y - 0.04F, 0.28F});
    for (const float s : {-1.0F, 1.0F})
        j.block(frame, {s < 0 ? -x : x - 0.06F, -y, 0}, {s < 0 ? -x + 0.06F : x, -y + 0.06F, 0.12F});
    j.cushion(linen, {-x + 0.02F, -y + 0.02F, 0.26F}, {x - 0.02F, y - 0.05F, top - 0.06F}, 0.06F);
    j.cushion(j.own, {-x + 0.005F, -y + 0.005F, 0.24F}, {x - 0.005F, y - 0.62F, top}, 0.07F);
    const int pillows = count_of(j.width, 0.75F);
    for (int i = 0; i < pillows; ++i) {
        const float w = j.width / static_cast<float>(pillows), x0 = -x + w * static_cast<float>(i);
        j.cushion(linen, {x0 + 0.04F, y - 0.56F, top - 0.1F}, {x0 + w - 0.04F, y - 0.08F, top + 0.05F}, 0.075F);
    }
}

void make_shelf(Joinery& j) {
    const float x = j.width / 2, y = j.depth / 2;
    static const std::array<Finish, 6> spines{
        plain_finish("book 1", 0.09, "brown"), plain_finish("book 2", 0.10, "red"),
        plain_finish("book 3", 0.12, "blue"),  plain_finish("book 4", 0.14, "green"),
        plain_finish("book 5", 0.42, "cream"), plain_finish("book 6", 0.05, "neutral")};
    for (const float s : {-1.0F, 1.0F}) j.block({s < 0 ? -x : x - board, -y, 0}, {s < 0 ? -x + board : x, y, j.height});
    j.block({-x + board, y - 0.01F, 0}, {x - board, y, j.height});
    const int rows = count_of(j.height, 0.34F);
    const float pitch = (j.height - board) / static_cast<float>(rows);
    for (int row = 0; row <= rows; ++row) {
        const float z = pitch * static_cast<float>(row);
        j.block({-x + board, -y, z}, {x - board, y - 0.01F, z + board});
        if (row == rows) break;
        const float free = pitch - board, end = x - board - 0.01F;
        std::uint32_t n = static_cast<std::uint32_t>(row) * 1000U;
        for (float at = -x + board + 0.005F; at < end; ++n) {
            const float thick = 0.016F + 0.034F * chance(n, 1), high = free * (0.62F + 0.3F * chance(n, 2));
            const float deep = std::min(j.depth * (0.6F + 0.3F * chance(n, 3)), j.depth - 0.015F);
            if (at + thick > end) break;
            // Here and there is a gap, as on any shelf that is used.
            if (chance(n, 4) > 0.08F) {
                const auto& spine = spines[static_cast<std::size_t>(chance(n, 5) * 5.999F)];
                j.block(spine, {at, y - 0.011F - deep, z + board},
                        {at + thick - 0.0015F, y - 0.011F, z + board + high});
            }
            at += thick * (chance(n, 4) > 0.08F ? 1.0F : 2.5F);
        }
    }
}

void make_drawers(Joinery& j) {
    static const Finish knob = plain_finish("knob", 0.30, "gold");
    const float x = j.width / 2, y = j.depth / 2, base = std::min(0.06F, 0.08F * j.height), proud = 0.026F;
    j.block({-x + 0.02F, -y + 0.06F, 0}, {x - 0.02F, y, base});
    j.block({-x, -y + proud, base}, {x, y, j.height});
    const int columns = count_of(j.width, 0.42F), rows = count_of(j.height - base, 0.19F);
    const float w = (j.width - 0.04F) / static_cast<float>(columns);
    const float h = (j.height - base - 0.05F) / static_cast<float>(rows);
    for (int c = 0; c < columns; ++c)
        for (int r = 0; r < rows; ++r) {
            const Vec3 at(-x + 0.02F + w * static_cast<float>(c), -y + 0.012F,
                          base + 0.02F + h * static_cast<float>(r));
            front(j, knob, at, at + Vec3(w, 0, h), false);
        }
}

void make_counter(Joinery& j) {
    static const Finish knob = plain_finish("handle", 0.25, "neutral");
    const float x = j.width / 2, y = j.depth / 2, kick = std::min(0.1F, 0.12F * j.height), top = 0.04F;
    j.block({-x + 0.01F, -y + 0.09F, 0}, {x - 0.01F, y, kick});
    j.block({-x + 0.01F, -y + 0.046F, kick}, {x - 0.01F, y, j.height - top});
    j.block({-x, -y, j.height - top}, {x, y, j.height});
    const int doors = count_of(j.width, 0.6F);
    const float w = (j.width - 0.02F) / static_cast<float>(doors);
    for (int i = 0; i < doors; ++i) {
        const Vec3 at(-x + 0.01F + w * static_cast<float>(i), -y + 0.032F, kick);
        const float drawer = j.height - top - std::min(0.18F, 0.25F * j.height);
        front(j, knob, at, {at.x + w, at.y, drawer}, true);
        front(j, knob, {at.x, at.y, drawer}, {at.x + w, at.y, j.height - top}, false);
    }
}

void make_lamp_foot(Joinery& j) {
    const float r = std::min(j.width, j.depth) / 2, base = std::min(0.03F, 0.15F * j.height);
    j.post(j.own, {0, 0, 0}, base, r, r * 0.92F);
    j.post(j.own, {0, 0, base}, j.height - base, 0.011F, 0.009F);
}

}  // namespace rushlight
