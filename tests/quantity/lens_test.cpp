#include "quantity/lens.h"

#include "quantity/colour.h"
#include "quantity/exposure.h"

#include <gtest/gtest.h>

namespace rushlight {
namespace {

// T = N / sqrt(tau), definition of the T-number (ISO 517): f/2 with tau .8 is T2.236; f/1.4 that marks T1.5 has .8711.
TEST(Lens, TStopAndFNumber) {
    EXPECT_NEAR(f_number(2.2360680, 0.8), 2.0, 1e-6);
    EXPECT_NEAR(f_number(1.5, 0.8711111), 1.4, 1e-6);
}

// Blur disc of a thin lens, c = f^2 |d - s| / (N d (s - f)) (any optics text), worked by hand:
// 50 mm at f/2, focus 2 m: a point at 3 m 2500 * 1000 / (2 * 3000 * 1950) = .21368 mm, at 1 m .64103 mm.
TEST(Lens, BlurDisc) {
    const ThinLens lens{50, 2, 2};
    EXPECT_NEAR(lens.blur(3), 0.213675, 1e-6);
    EXPECT_NEAR(lens.blur(1), 0.641026, 1e-6);
    EXPECT_EQ(lens.blur(2), 0);
    EXPECT_NEAR(lens.image_distance(), 51.28205, 1e-5);
    EXPECT_EQ((ThinLens{50, 0, INFINITY}.blur(1)), 0);
}

// What lies on the edge of the depth of field blurs to the circle of confusion: near and far come from other formulas
// (hyperfocal distance) than the disc.
TEST(Lens, DepthOfFieldEndsWhereTheDiscIsTheCircle) {
    constexpr double circle = 0.019;
    const ThinLens lens{75, 2.6, 2.2};
    const ThinLens::Sharp sharp = lens.sharp(circle);
    EXPECT_LT(sharp.near, 2.2);
    EXPECT_GT(sharp.far, 2.2);
    EXPECT_NEAR(lens.blur(sharp.near), circle, 1e-9);
    EXPECT_NEAR(lens.blur(sharp.far), circle, 1e-9);
}

// Focused on H = f^2 / (N c) + f all is sharp from H / 2 on (any optics text): 25 mm, f/4, .025 mm: 6.275 m.
TEST(Lens, HyperfocalDistance) {
    const ThinLens::Sharp sharp = ThinLens{25, 4, 6.275}.sharp(0.025);
    EXPECT_NEAR(sharp.near, 6.275 / 2, 1e-3);
    EXPECT_TRUE(std::isinf(sharp.far));
}

// A filter of one and a half stops asks for as much more light.
TEST(Exposure, FiltersBeforeTheLensCountLikeNd) {
    Exposure bare;
    Exposure filtered;
    filtered.filter_stops = 1.5;
    EXPECT_NEAR(stops_between(metered_illuminance(bare), metered_illuminance(filtered)).value, 1.5, 1e-12);
    EXPECT_NEAR(metered_t_stop(metered_illuminance(filtered), filtered), filtered.t_stop, 1e-12);
}

// K 12.5 against C 250 implies a card of pi K / C = 15.7 %: .197 stop from 18 % (ISO 2720:1974).
TEST(Exposure, SpotMetersCountFromADarkerCard) {
    EXPECT_NEAR(over_spot_grey().value, 0.197, 0.0005);
}

// The white of a tint lies as far off the locus as said, on the green side, and keeps its colour temperature, by Ohno's
// method (LEUKOS 10(1), 2014). Daylight itself lies about .003 over the locus of black bodies.
TEST(WhiteBalance, TintIsDuv) {
    const ColourTemperature plain = colour_temperature(tinted_white(Kelvin{5600}, 0));
    for (const double duv : {0.006, -0.006}) {
        const ColourTemperature t = colour_temperature(tinted_white(Kelvin{5600}, duv));
        EXPECT_NEAR(t.duv - plain.duv, duv, 2e-4);
        EXPECT_NEAR(t.cct.value, plain.cct.value, 0.01 * plain.cct.value);
    }
    // What the balance takes for white comes out without colour.
    const LinearRgb grey = WhiteBalance{Kelvin{4300}, 0.01}(tinted_white(Kelvin{4300}, 0.01));
    EXPECT_NEAR(grey.r, grey.g, 1e-5);
    EXPECT_NEAR(grey.b, grey.g, 1e-5);
}

}  // namespace
}  // namespace rushlight
