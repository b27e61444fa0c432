// A small scene with a bit of everything, and ways to look at it, for tests of what must not change any bit.
#pragma once

#include "outside_by_hand.h"
#include "paths/field.h"
#include "paths/room_with_window.h"

namespace rushlight::small {

/// A bit of everything: window with glass, sun and sky, three lamps, a silver board, a cloth, a net.
inline Scene furnished() {
    Scene s;
    Room room;
    room.width = 4;
    room.depth = 5;
    room.height = 2.6;
    room.finish.fill(matt(0.6));
    room.finish[static_cast<std::size_t>(Wall::floor)].gloss = 0.04F;
    const auto openings = add_room_with_window(s, room);
    openings->upper = {4, 5, 2.6F};
    add(s, rectangle_mesh(openings->rectangles[0], *glass_of(true, 0.8, 0.1, 0.3)));

    Finish silver = matt(0.1);
    silver.metal = Spectrum{0.7F};
    add(s, rectangle_mesh(facing_rectangle({3.2F, 2, 1.4F}, {-1, 0.3F, 0}, 0, 1, 1), silver));
    Finish cloth = matt(0.3);
    cloth.through = Spectrum{0.4F};
    cloth.straight = Spectrum{0.2F};
    add(s, rectangle_mesh(facing_rectangle({1.2F, 4, 1.6F}, {0.6F, -1, 0}, 0, 1.2, 1.2), cloth));
    Finish net = matt(0.02);
    net.straight = Spectrum{0.7F};
    add(s, rectangle_mesh(facing_rectangle({2, 3.5F, 1.8F}, {0, 0.2F, 1}, 0, 0.6, 0.6), net));

    Lamp hard = lamp(LampShape::hard, {0.8F, 4.7F, 1.9F}, Vec3(0.3F, -1, -0.2F).normalized(), 0.15, 0.15, 4000);
    hard.beam = 40;
    hard.field = 60;
    add_lamp(s, hard);
    add_lamp(s, lamp(LampShape::tube, {2, 4, 2.5F}, {0, 0, -1}, 1.2, 0.03, 1500));
    add_lamp(s, lamp(LampShape::ball, {3.5F, 4.5F, 1.0F}, {0, 0, -1}, 0.2, 0.2, 600));
    const Daylight d = by_hand::outside(3000, 900, 40'000, {0.3F, -0.8F, 0.7F});
    s.lights.add("sun", SunLight(d, openings));
    s.lights.add("sky", SkyLight(d, openings));
    finish(s);
    return s;
}

inline const std::vector<MeterPoint> meters{
    {MeterKind::flat, {2, 2.5F, 1.5F}, {0, -1, 0}},
    {MeterKind::dome, {2, 2.5F, 1.5F}, {1, 0, 0}},
    {MeterKind::spot, {0.3F, 0.3F, 1.5F}, Vec3(1, 1, -0.2F).normalized(), 0.01F}};

inline Effort quick(std::uint64_t seed, int threads) {
    Effort e = effort(0.03, seed);
    e.threads = threads;
    return e;
}

inline constexpr std::size_t side = 48;

inline CollectAtPoint view_of(const Scene& s) {
    return [&s](std::size_t p, const LightPaths& pool, const Sharing& sharing, Sampler& sampler,
                std::span<Spectrum> layers, SplitLight& split) {
        const auto x = static_cast<float>(p % side) / side - 0.5F, z = static_cast<float>(p / side) / side - 0.5F;
        collect_along(s, Ray{{0.3F, 0.3F, 1.5F}, Vec3(1 + x, 1 - x, z).normalized()}, pool, sharing, sampler, layers,
                      &split);
    };
}

inline void expect_same_bits(const MeterResults& a, const MeterResults& b, const Scene& s) {
    ASSERT_EQ(a.batches(), b.batches());
    EXPECT_EQ(a.reached, b.reached);
    for (std::size_t m = 0; m < meters.size(); ++m) {
        EXPECT_EQ(a.all(m).value, b.all(m).value);
        EXPECT_EQ(a.all(m).error, b.all(m).error);
        for (std::size_t k = 0; k < s.lights.count(); ++k) EXPECT_EQ(a.light(m, k), b.light(m, k));
    }
}

inline void expect_same_bits(const Field& a, const Field& b) {
    EXPECT_EQ(a.passes, b.passes);
    EXPECT_EQ(a.mean, b.mean);
    EXPECT_EQ(a.error, b.error);
    EXPECT_EQ(a.layers, b.layers);
    EXPECT_EQ(a.bounced, b.bounced);
    EXPECT_EQ(a.soft, b.soft);
    EXPECT_EQ(a.own_error, b.own_error);
    EXPECT_EQ(a.noise, b.noise);
}

}  // namespace rushlight::small
