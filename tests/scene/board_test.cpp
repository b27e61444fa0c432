// Boards and blacks as the trade knows them. Ranges from memory of handbooks unless said otherwise.
#include "quantity/colour.h"
#include "scene/surface/surface.h"

#include <gtest/gtest.h>

#include <cmath>

namespace rushlight {
namespace {

const Vec3 up{0, 0, 1};

Finish board(const char* name) {
    return named_finish(name).value();
}

Vec3 off(double degrees) {
    const double a = radians(Degree{degrees});
    return {static_cast<float>(std::sin(a)), 0, static_cast<float>(std::cos(a))};
}

/// Light sent from straight on towards an angle, over what a white board sends there.
double against_white(const char* name, double degrees) {
    const auto luminance = [&](const char* n) {
        return photometric(Surface(board(n)).scattered(up, up, off(degrees)) * equal_energy());
    };
    return static_cast<double>(luminance(name) / luminance("white foam board"));
}

TEST(Boards, SilverOutshinesWhiteInTheMirrorDirectionAlone) {
    EXPECT_GT(against_white("matt silver board", 0), 2);
    EXPECT_LT(against_white("matt silver board", 0), 4);
    EXPECT_LT(against_white("matt silver board", 50), 0.7);
    EXPECT_GT(against_white("hard silver board", 0), 8);
    EXPECT_LT(against_white("hard silver board", 40), 0.3);
    EXPECT_GT(against_white("gold board", 0), 1.5);
}

/// Mired that daylight of 5600 K gains by the finish.
double warmed(const Spectrum& shares) {
    const auto mired_of = [](const Spectrum& s) { return mired(colour_temperature(tristimulus(s)).cct).value; };
    const Spectrum light = daylight(Kelvin{5600});
    return mired_of(shares * light) - mired_of(light);
}

TEST(Boards, GoldAndUnbleachedMuslinAreWarm) {
    EXPECT_GT(warmed(board("gold board").metal), 60);
    EXPECT_LT(warmed(board("gold board").metal), 100);
    EXPECT_GT(warmed(board("unbleached muslin").reflectance), 20);
    EXPECT_LT(warmed(board("unbleached muslin").reflectance), 30);
    for (const char* white : {"white foam board", "bleached muslin", "matt silver board"})
        EXPECT_NEAR(warmed(board(white).reflectance), 0, 1) << white;
}

TEST(Boards, BlacksAreAFewPerCent) {
    const auto reflectance = [](const char* n) { return luminous_share(board(n).reflectance, equal_energy()); };
    EXPECT_GE(reflectance("black cloth"), 0.02);
    EXPECT_LE(reflectance("black cloth"), 0.05);
    EXPECT_GE(reflectance("worn black cloth"), 0.06);
    EXPECT_LE(reflectance("worn black cloth"), 0.10);
    EXPECT_GE(reflectance("black velvet"), 0.003);
    EXPECT_LE(reflectance("black velvet"), 0.01);
}

}  // namespace
}  // namespace rushlight
