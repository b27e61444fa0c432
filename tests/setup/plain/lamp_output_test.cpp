#include "setup/plain/lamp_output.h"
#include "quantity/units.h"

#include <gtest/gtest.h>

#include <cmath>

namespace rushlight {
namespace {

Lamp lamp(LampShape shape, double width, double height) {
    Lamp l;
    l.shape = shape;
    l.width = width;
    l.height = height;
    return l;
}

/// Midpoint sum over the glowing face, straight from E = integral of L cos cos / r^2.
double box_by_sum(double w, double h, double d) {
    constexpr int n = 400;
    double sum = 0;
    for (int i = 0; i < n; ++i)
        for (int j = 0; j < n; ++j) {
            const double x = ((i + 0.5) / n - 0.5) * w, y = ((j + 0.5) / n - 0.5) * h;
            const double r2 = x * x + y * y + d * d;
            sum += d * d / (r2 * r2);
        }
    return sum * w * h / (double(n) * n);
}

// Definition of illuminance, summed over the face (own calculation).
TEST(LampOutput, BoxByItsSize) {
    for (double d : {0.3, 1.0, 3.0}) {
        const double exact = lux_per_luminance(lamp(LampShape::box, 0.9, 0.6), d);
        EXPECT_NEAR(exact, box_by_sum(0.9, 0.6, d), 1e-4 * exact) << d;
    }
    // Far away a box is a point of L A candela; close to its face it fills the half space: E = pi L (Lambert).
    EXPECT_NEAR(lux_per_luminance(lamp(LampShape::box, 0.9, 0.6), 100.0) * 1e4, 0.9 * 0.6, 1e-4);
    EXPECT_NEAR(lux_per_luminance(lamp(LampShape::box, 20, 20), 0.001), pi, 1e-3);
}

// A sphere of any size lights as its candela would from its middle (Lambert): I = pi L R^2, flux = 4 pi I.
TEST(LampOutput, BallIsAPoint) {
    const LampLight l = lamp_light(lamp(LampShape::ball, 0.5, 0.5), {TypedOutput::Unit::lux, 64, 1.0});
    EXPECT_EQ(l.kind, Lamp::Output::lumen);
    EXPECT_NEAR(l.amount, 4 * pi * 64, 1e-6);
}

TEST(LampOutput, TubeByItsLength) {
    // Thin cylinder summed along its axis: E = integral of L D cos^2 / r^2 (own calculation).
    const double length = 1.2, girth = 0.03, d = 0.8;
    double sum = 0;
    constexpr int n = 20000;
    for (int i = 0; i < n; ++i) {
        const double z = ((i + 0.5) / n - 0.5) * length;
        const double r2 = z * z + d * d;
        sum += girth * d * d / (r2 * r2) * length / n;
    }
    EXPECT_NEAR(lux_per_luminance(lamp(LampShape::tube, length, girth), d), sum, 1e-6 * sum);
    // An endless tube falls off as 1/d: E = pi L D / (2 d).
    EXPECT_NEAR(lux_per_luminance(lamp(LampShape::tube, 1e5, girth), d), pi * girth / (2 * d), 1e-6);
}

// I = E d^2 (Lambert); lumen and candela pass as they are.
TEST(LampOutput, HardIsCandela) {
    const LampLight lux = lamp_light(lamp(LampShape::hard, 0.022, 0.022), {TypedOutput::Unit::lux, 5200, 3.0});
    EXPECT_EQ(lux.kind, Lamp::Output::candela);
    EXPECT_DOUBLE_EQ(lux.amount, 46800);
    EXPECT_DOUBLE_EQ(lamp_light(lamp(LampShape::hard, 0.022, 0.022), {TypedOutput::Unit::lumen, 9000, 0}).amount, 9000);
    EXPECT_EQ(lamp_light(lamp(LampShape::box, 1, 1), {TypedOutput::Unit::candela, 500, 0}).kind, Lamp::Output::candela);
}

// Lux back from the lumen that it was turned into.
TEST(LampOutput, BoxComesBack) {
    const Lamp box = lamp(LampShape::box, 0.9, 0.9);
    const LampLight l = lamp_light(box, {TypedOutput::Unit::lux, 2500, 1.0});
    const double luminance = l.amount / (pi * 0.81);
    EXPECT_NEAR(luminance * box_by_sum(0.9, 0.9, 1.0), 2500, 0.5);
}

// 2 pi (1 - cos): 55 degrees 0.71 sr, 180 degrees the half space.
TEST(LampOutput, BeamSolidAngle) {
    EXPECT_NEAR(beam_solid_angle(55), 0.71, 0.005);
    EXPECT_NEAR(beam_solid_angle(180), 2 * pi, 1e-9);
}

}  // namespace
}  // namespace rushlight
