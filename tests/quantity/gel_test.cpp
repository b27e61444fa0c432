#include "quantity/colour.h"

#include <gtest/gtest.h>

#include <cmath>

namespace rushlight {
namespace {

double shift_of(const Spectrum& share, const Spectrum& light) {
    const ColourTemperature before = colour_temperature(tristimulus(light));
    const ColourTemperature after = colour_temperature(tristimulus(share * light));
    return (mired(after.cct) - mired(before.cct)).value;
}

// Shift and transmission of the usual grades; common practice, no source.
constexpr double grades[][2] = {{131, 0.63},  {159, 0.63}, {78, 0.76},  {42, 0.84},  {20, 0.93},
                                {-131, 0.25}, {-80, 0.50}, {-35, 0.71}, {-10, 0.84}, {131, 0.30}};

TEST(Gel, ShiftsAndPassesWhatItSays) {
    // Definition of the mired shift and of luminous transmittance.
    for (double base : {3200.0, 4300.0, 5600.0, 6500.0}) {
        const Spectrum light = white_light(Kelvin{base});
        for (const auto& [shift, transmission] : grades) {
            const Spectrum share = gel(Mired{shift}, transmission, Kelvin{base});
            EXPECT_NEAR(shift_of(share, light), shift, 0.1) << base << " " << shift;
            EXPECT_NEAR(luminous_share(share, light), transmission, 1e-4) << base << " " << shift;
            for (float band : share.band) {
                EXPECT_GE(band, 0.0F);
                EXPECT_LE(band, 1.0F);
            }
        }
    }
}

TEST(Gel, StaysAlongTheLocus) {
    // A correction gel must not turn white light green or magenta: within .003 in u,v, about what ANSI
    // C78.377 allows to either side of a nominal white (half its .006 to .007; from memory).
    for (double base : {3200.0, 5600.0}) {
        const Spectrum light = white_light(Kelvin{base});
        const double before = colour_temperature(tristimulus(light)).duv;
        for (const auto& [shift, transmission] : grades) {
            const Spectrum through = gel(Mired{shift}, transmission, Kelvin{base}) * light;
            EXPECT_NEAR(colour_temperature(tristimulus(through)).duv, before, 0.003) << base << " " << shift;
        }
    }
}

TEST(Gel, ShiftsAddUpRoughlyOnOtherLight) {
    // The point of mired: one gel shifts other whites by about as much. A gel made for 5,600 K on 3,200 K.
    const Spectrum share = gel(Mired{131}, 0.55, Kelvin{5600});
    EXPECT_NEAR(shift_of(share, white_light(Kelvin{3200})), 131, 0.15 * 131);
}

TEST(Gel, OppositesUndoEachOther) {
    const Spectrum light = white_light(Kelvin{3200});
    const Spectrum blue = gel(Mired{-131}, 0.3, Kelvin{3200});
    const Spectrum orange = gel(Mired{131}, 0.3, Kelvin{5500});
    // Half of the 20 mired that are noticed between matched sides (common practice, no source).
    EXPECT_NEAR(shift_of(blue * orange, light), 0, 10);
}

TEST(Gel, NoShiftIsNeutralDensity) {
    EXPECT_EQ(gel(Mired{0}, 0.5, Kelvin{5600}), Spectrum{0.5F});
    EXPECT_EQ(gel(Mired{0}, 1.7, Kelvin{5600}), Spectrum{1.0F});
}

TEST(Gel, WhatNoFilterCanDoIsDoneAsFarAsItGoes) {
    // All of the light and a shift together cannot be: the colour is kept and the transmission drops.
    const Spectrum light = white_light(Kelvin{5600});
    const Spectrum orange = gel(Mired{131}, 1.0, Kelvin{5600});
    EXPECT_NEAR(shift_of(orange, light), 131, 0.5);
    EXPECT_GT(luminous_share(orange, light), 0.7);
    EXPECT_LT(luminous_share(orange, light), 1.0);
    for (double shift : {-5000.0, -400.0, 400.0, 5000.0}) {
        for (double base : {1000.0, 5600.0, 25'000.0}) {
            const Spectrum share = gel(Mired{shift}, 0.5, Kelvin{base});
            for (float band : share.band) EXPECT_TRUE(band >= 0 && band <= 1) << shift << " " << base;
        }
    }
}

}  // namespace
}  // namespace rushlight
