#include "pictures/draw/false_colour.h"

#include "pictures/draw/perceived.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <string>

namespace rushlight {
namespace {

// What a person sees to whom one kind of cone is missing: Machado, Oliveira and Fernandes, IEEE Transactions
// on Visualization and Computer Graphics 15(6), 2009, severity 1.0; on linear light. From memory; that each
// row sums to 1 (white stays white) is tested below.
struct Seeing {
    const char* name;
    double m[3][3];
};
constexpr Seeing seeings[] = {
    {"all cones", {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}},
    {"protanopia", {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}}},
    {"deuteranopia",
     {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}}},
    {"tritanopia",
     {{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}}}};

Lab seen(const Colour& display, const Seeing& by) {
    Colour linear{}, out{};
    for (std::size_t i = 0; i < 3; ++i) linear[i] = srgb_decoded(display[i]);
    for (std::size_t row = 0; row < 3; ++row) {
        double sum = 0;
        for (std::size_t i = 0; i < 3; ++i) sum += by.m[row][i] * static_cast<double>(linear[i]);
        out[row] = static_cast<float>(std::clamp(sum, 0.0, 1.0));
    }
    return lab_of_linear(out);
}

TEST(Perceived, KnowsTheStandardExamples) {
    // CIELAB of the display primaries, D65 (any table of sRGB in CIELAB; from memory, two decimals).
    const Lab red = lab_of_display({1, 0, 0}), white = lab_of_display({1, 1, 1});
    EXPECT_NEAR(red.l, 53.24, 0.02);
    EXPECT_NEAR(red.a, 80.09, 0.05);
    EXPECT_NEAR(red.b, 67.20, 0.05);
    EXPECT_NEAR(white.l, 100, 0.01);
    EXPECT_NEAR(std::hypot(white.a, white.b), 0, 0.02);
    // Lightness of an 18 % card is 49.5 (CIE 1976 formula: 116 * cbrt(0.18) - 16).
    EXPECT_NEAR(lab_of_linear({0.18F, 0.18F, 0.18F}).l, 49.496, 0.01);
}

TEST(Perceived, ThereAndBack) {
    for (const Colour& c : {Colour{0.2F, 0.5F, 0.8F}, Colour{0.9F, 0.1F, 0.3F}, Colour{0.03F, 0.03F, 0.02F}}) {
        const Colour back = display_of(lab_of_display(c));
        for (std::size_t i = 0; i < 3; ++i) EXPECT_NEAR(back[i], c[i], 1e-4);
    }
}

TEST(FalseColour, SeeingMatricesKeepWhite) {
    for (const Seeing& s : seeings)
        for (const auto& row : s.m) EXPECT_NEAR(row[0] + row[1] + row[2], 1, 2e-6) << s.name;
}

// Half stops where skin is placed, whole stops beyond.
TEST(FalseColour, BandsAreHalfStopsAroundGrey) {
    EXPECT_EQ(colour_band(-std::numeric_limits<double>::infinity()), 0);
    EXPECT_EQ(colour_band(std::numeric_limits<double>::quiet_NaN()), 0);
    EXPECT_EQ(colour_band(-5.001), 0);
    EXPECT_EQ(colour_band(-5), 1);
    EXPECT_EQ(colour_band(-1.001), 4);
    EXPECT_EQ(colour_band(-0.501), 5);
    EXPECT_EQ(colour_band(-0.001), 6);
    EXPECT_EQ(colour_band(0), 7);
    EXPECT_EQ(colour_band(0.5), 8);
    EXPECT_EQ(colour_band(1), 9);
    EXPECT_EQ(colour_band(6.999), 14);
    EXPECT_EQ(colour_band(7), 15);
    EXPECT_EQ(colour_band(40), 15);
    for (int b = 1; b + 1 < colour_bands; ++b) {
        const double lower = band_edges[static_cast<std::size_t>(b) - 1],
                     upper = band_edges[static_cast<std::size_t>(b)];
        EXPECT_EQ(upper - lower, lower >= -1 && upper <= 1 ? 0.5 : 1.0) << b;
        EXPECT_EQ(colour_band(lower), b);
        EXPECT_EQ(colour_band(band_middle(b)), b);
    }
}

TEST(FalseColour, LightnessRisesByTheSameStepButForTheLast) {
    const auto lightness = [](int band) { return lab_of_display(band_colour(band)).l; };
    const double step = (lightness(14) - lightness(0)) / 14;
    EXPECT_GE(step, 6);
    for (int b = 1; b < colour_bands - 1; ++b) EXPECT_NEAR(lightness(b) - lightness(b - 1), step, 0.05) << b;
    EXPECT_NEAR(lightness(15) - lightness(14), 1.55 * step, 0.05);
}

// The lightest two have little colour left: they are told apart by lightness, on paper too.
TEST(FalseColour, TheTopTwoBandsAreToldApart) {
    for (const Seeing& s : seeings) {
        const Lab under = seen(band_colour(14), s), top = seen(band_colour(15), s);
        EXPECT_GE(difference(under, top), std::string(s.name) == "all cones" ? 16 : 9.5) << s.name;
        EXPECT_GE(top.l - under.l, 8) << s.name;
    }
}

TEST(FalseColour, NeighboursStayApartForEveryKindOfSeeing) {
    // CIE 1976 differences. About 2.3 is just noticeable side by side (Mahy et al. 1994; from memory).
    for (const Seeing& s : seeings) {
        const bool all_cones = std::string(s.name) == "all cones";
        for (int b = 1; b < colour_bands; ++b) {
            const Lab lower = seen(band_colour(b - 1), s), upper = seen(band_colour(b), s);
            EXPECT_GT(upper.l, lower.l) << s.name << ", band " << b;
            EXPECT_GE(difference(lower, upper), all_cones ? 10 : 6) << s.name << ", band " << b;
        }
    }
}

TEST(FalseColour, GreyIsTheOneBigStep) {
    const int over = colour_band(0), under = over - 1;
    for (const Seeing& s : seeings)
        EXPECT_GE(difference(seen(band_colour(under), s), seen(band_colour(over), s)), 45) << s.name;
}

TEST(FalseColour, TwoBandsAreNeverTakenForEachOther) {
    for (const Seeing& s : seeings)
        for (int a = 0; a < colour_bands; ++a)
            for (int b = a + 2; b < colour_bands; ++b)
                EXPECT_GE(difference(seen(band_colour(a), s), seen(band_colour(b), s)), 12)
                    << s.name << ", bands " << a << " and " << b;
}

TEST(FalseColour, SmoothScaleMeetsTheBandsAndNeverDarkens) {
    for (int b = 0; b < colour_bands; ++b) {
        const Colour smooth = smooth_colour(band_middle(b)), band = band_colour(b);
        EXPECT_LT(difference(lab_of_display(smooth), lab_of_display(band)), 0.5) << b;
    }
    double before = 0;
    for (double stops = -7; stops <= 9; stops += 1.0 / 64) {
        const double lightness = lab_of_display(smooth_colour(stops)).l;
        EXPECT_GE(lightness, before - 0.03) << stops;
        before = lightness;
    }
    EXPECT_EQ(smooth_colour(-std::numeric_limits<double>::infinity()), smooth_colour(-6));
    EXPECT_EQ(smooth_colour(std::numeric_limits<double>::infinity()), smooth_colour(8));
}

}  // namespace
}  // namespace rushlight
