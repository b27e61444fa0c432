#include "quantity/exposure.h"

#include <gtest/gtest.h>

namespace rushlight {
namespace {

// References: the meter equations of ISO 2720:1974, worked by hand; constants as in the header.

TEST(Exposure, LuxThatAStopAsksFor) {
    struct Row {
        double iso, fps, angle, t_stop, lux, fc;
    };
    const Row rows[] = {{800, 24, 180, 2.8, 117.60, 10.93}, {800, 25, 180, 2.8, 122.50, 11.38},
                        {400, 24, 180, 4.0, 480.00, 44.59}, {1600, 24, 172.8, 2.0, 31.25, 2.90},
                        {100, 24, 180, 2.8, 940.80, 87.40}, {3200, 48, 90, 5.6, 470.40, 43.70}};
    for (const Row& r : rows) {
        const Exposure e{r.t_stop, r.angle, r.fps, r.iso, 0};
        const Lux asked = metered_illuminance(e);
        EXPECT_NEAR(asked.value, r.lux, 1e-6 * r.lux);
        EXPECT_NEAR(footcandles(asked), r.fc, 0.005);
        EXPECT_NEAR(metered_illuminance(e, incident_constant_dome).value, 1.28 * r.lux, 1.28e-6 * r.lux);
        EXPECT_NEAR(metered_t_stop(asked, e), r.t_stop, 1e-9);
        EXPECT_NEAR(over_exposure(asked, e).value, 0.0, 1e-9);
    }
}

TEST(Exposure, ShutterTime) {
    // 172.8 degrees at 24 fps is 1/50 s, and 0.0589 stop from 1/48 s.
    const Exposure mains{.shutter_angle = 172.8};
    EXPECT_NEAR(mains.shutter_time().value, 0.02, 1e-12);
    EXPECT_NEAR(stops_between(Lux{1.0 / 50}, Lux{1.0 / 48}).value, 0.0589, 5e-5);
    EXPECT_NEAR(over_exposure(metered_illuminance(Exposure{}), mains).value, -0.0589, 5e-5);
}

TEST(Exposure, ExposureValues) {
    // EV at ISO 100: E = 2^EV C / 100, so N^2 / t = 2^EV. One second: 360 degrees at one frame a second.
    struct Row {
        double ev, flat, dome;
    };
    const Row rows[] = {{0, 2.5, 3.2},      {3, 20, 25.6},          {5, 80, 102.4},         {8, 640, 819.2},
                        {10, 2560, 3276.8}, {12, 10'240, 13'107.2}, {15, 81'920, 104'857.6}};
    for (const Row& r : rows) {
        const Exposure e{.t_stop = std::exp2(r.ev / 2), .shutter_angle = 360, .frames_per_second = 1, .iso = 100};
        EXPECT_NEAR(metered_illuminance(e).value, r.flat, 1e-6 * r.flat);
        EXPECT_NEAR(metered_illuminance(e, incident_constant_dome).value, r.dome, 1e-6 * r.dome);
    }
}

TEST(Exposure, DensityInStops) {
    // T = 10^-D (ISO 5): D / log10(2) stops.
    const double rows[][2] = {{0.3, 0.9966}, {0.6, 1.9931}, {0.9, 2.9897}, {1.2, 3.9863}, {1.8, 5.9795}};
    const Lux light{1000};
    for (const auto& [density, stops] : rows) {
        const Exposure e{.nd_density = density};
        EXPECT_NEAR(e.nd_loss().value, stops, 1e-4);
        EXPECT_NEAR(over_exposure(light, e).value, over_exposure(light, Exposure{}).value - stops, 1e-4);
        EXPECT_NEAR(stops_between(metered_illuminance(Exposure{}), metered_illuminance(e)).value, stops, 1e-4);
        EXPECT_NEAR(metered_t_stop(light, e) * std::exp2(stops / 2), metered_t_stop(light, Exposure{}), 1e-3);
    }
    EXPECT_NEAR((Exposure{.nd_density = 0.30103}.nd_loss().value), 1.0, 1e-5);
    EXPECT_NEAR((Exposure{.nd_density = 0.90309}.nd_loss().value), 3.0, 1e-5);
}

TEST(Exposure, GreyIsTheCardInTheLightThatTheMeterAsksFor) {
    // L = 0.18 E / pi, so an 18 % card that receives the metered lux is at grey, and K would be 14.324
    // (ISO 2720: K = C rho / pi).
    const Exposure e{};
    const Luminance grey = grey_luminance(e);
    EXPECT_NEAR(grey.value, 0.18 * 117.6 / pi, 1e-6);
    EXPECT_NEAR(grey.value * e.shutter_time().value * e.iso / (2.8 * 2.8), 14.324, 5e-4);
    EXPECT_NEAR(over_grey(luminance_of_matt(Lux{117.6}, 0.18), e).value, 0.0, 1e-9);
    EXPECT_NEAR(over_grey(luminance_of_matt(Lux{117.6}, 0.36), e).value, 1.0, 1e-9);
    // 35 % reflectance lies 0.96 stop over grey (log2 of 0.35 / 0.18).
    EXPECT_NEAR(over_grey(luminance_of_matt(Lux{117.6}, 0.35), e).value, 0.96, 0.005);
}

TEST(Exposure, NoLight) {
    EXPECT_EQ(metered_t_stop(Lux{0}, Exposure{}), 0.0);
    EXPECT_EQ(over_exposure(Lux{0}, Exposure{}).value, -INFINITY);
    EXPECT_EQ(over_grey(Luminance{0}, Exposure{}).value, -INFINITY);
}

}  // namespace
}  // namespace rushlight
