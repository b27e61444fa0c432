#include "quantity/colour.h"
#include "scene/light/sky.h"

#include <gtest/gtest.h>

#include <cmath>

namespace rushlight {
namespace {

/// Degrees between two azimuths, as the sky shows them at this altitude.
double azimuth_error(double a, double b, double altitude) {
    return std::abs(std::remainder(a - b, 360.0)) * std::cos(radians(Degree{altitude}));
}

TEST(Sun, AlmanacPlaces) {
    // Recorded from python3-astropy of Debian 12 (with ERFA and its own earth-rotation table); python3-ephem 4.1.4 gave
    // the same to 0.0002 degree. Unrefracted altitude, azimuth from north by east.
    struct Row {
        int year, month, day;
        double utc, latitude, longitude, altitude, azimuth;
    };
    const Row rows[] = {{2024, 6, 20, 15.5, 51.4779, -.0015, 41.4886, 255.0241},
                        {2023, 12, 21, 19, 45.5017, -73.5673, 15.1956, 210.1714},
                        {2024, 1, 15, 22, -33.8688, 151.2093, 35.0624, 93.3419},  // morning, southern summer
                        {2024, 7, 1, 14, -34.6037, -58.3816, 25.9539, 30.1406},   // before noon, sun in the north
                        {2024, 3, 20, 15, -.1807, -78.4678, 54.7108, 89.4057},    // equator, equinox
                        {2024, 5, 1, 19, 64.1466, -21.9426, 16.5151, 271.3282}};
    for (const Row& r : rows) {
        const SunPosition sun =
            sun_position(r.year, r.month, r.day, r.utc, Degree{r.latitude}, Degree{r.longitude}, false);
        EXPECT_NEAR(sun.altitude.value, r.altitude, 0.01) << r.latitude;
        EXPECT_LT(azimuth_error(sun.azimuth.value, r.azimuth, r.altitude), 0.01) << r.latitude;
    }
}

TEST(Sun, PublishedExamples) {
    // NREL TP-560-34302, appendix: 2003 October 17, 12:30:30 at UTC-7: zenith 50.11162 with refraction,
    // elevation 39.872046 without, azimuth 194.34024.
    const double utc = 12 + 30.0 / 60 + 30.0 / 3600 + 7;
    const SunPosition seen = sun_position(2003, 10, 17, utc, Degree{39.742476}, Degree{-105.1786});
    const SunPosition geometric = sun_position(2003, 10, 17, utc, Degree{39.742476}, Degree{-105.1786}, false);
    EXPECT_NEAR(90 - seen.altitude.value, 50.11162, 0.01);
    EXPECT_NEAR(geometric.altitude.value, 39.872046, 0.01);
    EXPECT_LT(azimuth_error(seen.azimuth.value, 194.34024, 39.87), 0.01);
    // The same place and time by two packages of Debian 12, recorded: python3-astropy and python3-ephem 4.1.4.
    for (const auto& [altitude, azimuth] : {std::pair{39.8723, 194.3383}, std::pair{39.8720, 194.3402}}) {
        EXPECT_NEAR(geometric.altitude.value, altitude, 0.01);
        EXPECT_LT(azimuth_error(geometric.azimuth.value, azimuth, altitude), 0.01);
    }
    // An open implementation's reference set: 1910 March 15, 00:30 UTC: azimuth .188643, zenith 34.269919.
    const SunPosition south = sun_position(1910, 3, 15, 0.5, Degree{-36.840556}, Degree{174.74});
    EXPECT_NEAR(90 - south.altitude.value, 34.269919, 0.01);
    EXPECT_LT(azimuth_error(south.azimuth.value, .188643, 55.73), 0.01);
    // Meeus, example 25.a: 1992 October 13.0, declination -7.78507. From the pole the sun stands as high as
    // its declination, less the parallax of .0024 degree.
    const SunPosition pole = sun_position(1992, 10, 13, 0, Degree{90}, Degree{0}, false);
    EXPECT_NEAR(pole.altitude.value, -7.78507 - 0.00243, 1e-4);
}

TEST(Sun, RefractionLiftsTheSun) {
    // Meeus ch. 16: 28.98, 9.67 and 5.41 minutes of arc at true altitudes of 0, 5 and 10 degrees.
    const auto at = [](double utc, bool refracted) {
        return sun_position(2024, 6, 20, utc, Degree{51.4779}, Degree{-.0015}, refracted).altitude.value;
    };
    const double rows[][2] = {{0, 28.98}, {5, 9.67}, {10, 5.41}};
    for (const auto& [altitude, minutes] : rows) {
        double early = 15, late = 23;
        for (int i = 0; i < 60; ++i) {
            const double middle = 0.5 * (early + late);
            (at(middle, false) > altitude ? early : late) = middle;
        }
        EXPECT_NEAR((at(early, true) - at(early, false)) * 60, minutes, 0.01);
    }
    // Through sunset and dusk the apparent sun only ever falls, without a step.
    for (double utc = 15; utc < 23; utc += 0.01) {
        const double fall = at(utc, true) - at(utc + 0.01, true);
        EXPECT_GT(fall, 0) << utc;
        EXPECT_LT(fall, 0.2) << utc;
    }
}

TEST(Sun, HoursRollOverIntoTheNextDay) {
    const Degree latitude{-33.8688}, longitude{151.2093};
    // 16 January, 09:00 by a clock 11 h ahead, is 22:00 of the 15th in Greenwich.
    const SunPosition local = sun_position(2024, 1, 16, 9.0 - 11.0, latitude, longitude);
    const SunPosition utc = sun_position(2024, 1, 15, 22.0, latitude, longitude);
    EXPECT_NEAR(local.altitude.value, utc.altitude.value, 1e-6);
    EXPECT_NEAR(local.azimuth.value, utc.azimuth.value, 1e-6);
    const SunPosition before = sun_position(2023, 12, 31, 28.0, latitude, longitude);
    const SunPosition after = sun_position(2024, 1, 1, 4.0, latitude, longitude);
    EXPECT_NEAR(before.altitude.value, after.altitude.value, 1e-6);
    const SunPosition leap = sun_position(2024, 2, 28, 25.0, latitude, longitude);
    const SunPosition leap_day = sun_position(2024, 2, 29, 1.0, latitude, longitude);
    EXPECT_NEAR(leap.altitude.value, leap_day.altitude.value, 1e-6);
}

TEST(Sun, AirMass) {
    // Kasten and Young 1989.
    const double rows[][2] = {{60, 1.15399}, {30, 1.99429}, {20, 2.90315}, {10, 5.58604}, {5, 10.3058}, {1, 26.3106}};
    for (const auto& [altitude, mass] : rows) EXPECT_NEAR(air_mass(Degree{altitude}), mass, 1e-5 * mass);
    EXPECT_NEAR(air_mass(Degree{-3}), air_mass(Degree{0}), 1e-12);
}

TEST(Sun, OutsideTheAirThroughTheYear) {
    // IES daylight availability practice (1984): 127.5 klx [1 + .034 cos(2 pi (J - 2) / 365)].
    const double rows[][2] = {{2, 131.83}, {172, 123.26}, {185, 123.17}, {266, 126.78}, {355, 131.74}};
    for (const auto& [day, klx] : rows)
        EXPECT_NEAR(direct_normal_illuminance(static_cast<int>(day), Degree{45}, 0.0).value, klx * 1000,
                    0.001 * klx * 1000)
            << day;
}

TEST(Sun, DirectNormalIlluminance) {
    // Same practice, extinction .21, air mass of Kasten and Young, at the mean distance of the sun: klx.
    const double rows[][2] = {{60, 100.06}, {30, 83.87}, {20, 69.30}, {10, 39.45}, {5, 14.64}, {1, .508}};
    for (const auto& [altitude, klx] : rows) {
        const double share = direct_normal_illuminance(100, Degree{altitude}).value /
                             direct_normal_illuminance(100, Degree{altitude}, 0.0).value;
        EXPECT_NEAR(127.5 * share, klx, 0.001 * klx) << altitude;
    }
    EXPECT_EQ(direct_normal_illuminance(100, Degree{-0.1}).value, 0.0);
    EXPECT_EQ(direct_normal_illuminance(100, Degree{0}).value, 0.0);
}

TEST(Sun, ColourByAltitude) {
    // Usual tables, from memory: sunset 2,000 K, an hour up 3,500 K, midday 5,000 to 5,500 K.
    const auto cct = [](double altitude) { return colour_temperature(tristimulus(sunlight(Degree{altitude}))).cct; };
    EXPECT_NEAR(cct(2).value, 2000, 200);
    EXPECT_NEAR(cct(10).value, 3500, 300);
    EXPECT_NEAR(cct(60).value, 5250, 250);
    for (double altitude = 0; altitude < 90; altitude += 1) EXPECT_LT(cct(altitude), cct(altitude + 1)) << altitude;
    EXPECT_NEAR(photometric(sunlight(Degree{0})), 1.0, 1e-5);
}

}  // namespace
}  // namespace rushlight
