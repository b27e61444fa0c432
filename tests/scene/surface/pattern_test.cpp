// Bricks, boards and tiles change where a surface is light and dark, never how much light it sends back in all.
#include "scene/surface/pattern.h"

#include "by_chance.h"

#include <set>

namespace rushlight {
namespace {

Finish patterned(PatternKind kind, double reflectance, const char* hue = "oak") {
    Finish f;
    f.reflectance = reflectance_of(hue, reflectance).value();
    f.pattern = kind;
    return f;
}

constexpr PatternKind last = PatternKind::foliage;

std::vector<PatternKind> all_kinds() {
    std::vector<PatternKind> kinds;
    for (int k = 1; k <= static_cast<int>(last); ++k) kinds.push_back(static_cast<PatternKind>(k));
    return kinds;
}

/// The mean over a wide floor or wall is the finish's own: means over forty places far from each other tell by how much
/// such a mean may miss.
TEST(Pattern, KeepsTheMeanReflectance) {
    std::mt19937_64 random(3);
    for (const PatternKind kind : all_kinds())
        for (const double reflectance : {0.08, 0.35})
            for (const bool wall : {false, true}) {
                const Finish finish = patterned(kind, reflectance);
                const std::vector<Finish> tones = tones_of(finish);
                ASSERT_EQ(tones.size(), Pattern::tones);
                const Pattern pattern(kind, {{0.3F, -2, 0.1F}, 0.4F, wall ? 2 : 1});
                const Vec3 normal = wall ? Vec3(0.8F, 0.6F, 0) : Vec3(0, 0, 1);
                by_chance::Mean mean, joints;
                for (int place = 0; place < 40; ++place) {
                    const float far = 25.0F * static_cast<float>(place);
                    double sum = 0, in_joints = 0;
                    constexpr int count = 4000;
                    for (int i = 0; i < count; ++i) {
                        const auto u = by_chance::even_numbers<2>(random);
                        const Vec3 p = wall ? Vec3(0.6F, -0.8F, 0) * (far + 20 * u[0]) + Vec3(0, 0, 20 * u[1])
                                            : Vec3(far + 20 * u[0], 20 * u[1], 0.013F);
                        const std::uint32_t tone = pattern.tone_at(p, normal);
                        ASSERT_LT(tone, tones.size());
                        sum += static_cast<double>(tones[tone].reflectance[9]);
                        in_joints += tone == Pattern::shades ? 1 : 0;
                    }
                    mean.add(sum / count), joints.add(in_joints / count);
                }
                SCOPED_TRACE(std::string(pattern_words[static_cast<std::size_t>(kind)]) +
                             (wall ? ", wall" : ", floor"));
                by_chance::expect_mean(mean, static_cast<double>(finish.reflectance[9]), 0.004);
                EXPECT_NEAR(joints.value(), static_cast<double>(joints_of(kind)), 4 * joints.error() + 1e-4);
            }
}

/// In every band, and however pale the finish is: no tone sends back more than arrives.
TEST(Pattern, NoToneMakesLight) {
    for (const PatternKind kind : all_kinds())
        for (const double reflectance : {0.01, 0.5, 0.9, 0.97, 1.0}) {
            const Finish finish = patterned(kind, reflectance, "neutral");
            const std::vector<Finish> tones = tones_of(finish);
            const float a = joints_of(kind);
            Spectrum mean = tones[Pattern::shades].reflectance * a;
            for (std::size_t i = 0; i < Pattern::shades; ++i)
                mean += tones[i].reflectance * ((1 - a) / static_cast<float>(Pattern::shades));
            for (const Finish& tone : tones) {
                EXPECT_LE(tone.reflectance.largest(), 1.0F);
                for (int b = 0; b < bands; ++b) EXPECT_GE(tone.reflectance[b], 0);
            }
            for (int b = 0; b < bands; ++b) EXPECT_NEAR(mean[b], finish.reflectance[b], 1e-5F);
        }
}

TEST(Pattern, IsSeen) {
    for (const PatternKind kind : all_kinds()) {
        const Pattern pattern(kind, {});
        std::set<std::uint32_t> tones;
        for (int i = 0; i < 400; ++i)
            tones.insert(pattern.tone_at({0.017F * static_cast<float>(i % 20), 0.041F * static_cast<float>(i / 20), 0},
                                         {0, 0, 1}));
        EXPECT_GE(tones.size(), kind == PatternKind::chequer ? 2U : 4U)
            << pattern_words[static_cast<std::size_t>(kind)];
    }
}

/// A course is 75 mm: at half a brick along, the joint over it lies where bricklayers put it.
TEST(Pattern, BricksAreLaidInBond) {
    const Pattern brick(PatternKind::brick, {});
    const Vec3 normal(0, 1, 0);
    EXPECT_EQ(brick.tone_at({0.10F, 0, 0.005F}, normal), Pattern::shades);  // the bed under a course
    EXPECT_NE(brick.tone_at({0.10F, 0, 0.040F}, normal), Pattern::shades);
    EXPECT_EQ(brick.tone_at({0.005F, 0, 0.040F}, normal), Pattern::shades);  // between two bricks
    EXPECT_NE(brick.tone_at({0.005F, 0, 0.115F}, normal), Pattern::shades);  // a course higher there is a brick
    EXPECT_EQ(brick.tone_at({0.1175F, 0, 0.115F}, normal), Pattern::shades);
}

TEST(Pattern, WhatIsNoMattBodyHasNone) {
    Finish f = patterned(PatternKind::wood, 0.3);
    f.metal = Spectrum{0.5F};
    EXPECT_TRUE(tones_of(f).empty());
    f = patterned(PatternKind::none, 0.3);
    EXPECT_TRUE(tones_of(f).empty());
    f = patterned(PatternKind::wood, 0.3);
    f.straight = Spectrum{0.2F};
    EXPECT_TRUE(tones_of(f).empty());
}

}  // namespace
}  // namespace rushlight
