#include "scene/light/sky.h"

#include "quantity/colour.h"

#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

namespace rushlight {
namespace {

/// Unit vector at `zenith` from straight up, `azimuth` from y towards x; degrees.
Vec3 toward(double zenith, double azimuth) {
    const double z = radians(Degree{zenith}), a = radians(Degree{azimuth});
    return {static_cast<float>(std::sin(z) * std::sin(a)), static_cast<float>(std::sin(z) * std::cos(a)),
            static_cast<float>(std::cos(z))};
}

/// Illuminance on a face with normal `n` from whatever `luminance` says, over all directions with z above
/// `lowest`; midpoints in sine of altitude and azimuth.
template <class LuminanceOf>
double illuminance_on(const Vec3& n, double lowest, LuminanceOf luminance) {
    constexpr int rings = 400, sectors = 400;
    double sum = 0;
    for (int i = 0; i < rings; ++i) {
        const double up = lowest + (1 - lowest) * (i + 0.5) / rings;
        const double across = std::sqrt(1 - up * up);
        for (int j = 0; j < sectors; ++j) {
            const double a = 2 * pi * (j + 0.5) / sectors;
            const Vec3 d(static_cast<float>(across * std::sin(a)), static_cast<float>(across * std::cos(a)),
                         static_cast<float>(up));
            const double cosine = d.dot(n);
            if (cosine > 0) sum += cosine * luminance(d);
        }
    }
    return sum * 2 * pi * (1 - lowest) / (rings * sectors);
}

TEST(Sky, OvercastOfTheGeneralSky) {
    // Type 1 is not the older overcast sky (1 + 2 sin h) / 3, which has .66667 and .4491 here (and closed
    // forms for its integrals): .66516 at 60 degrees from the zenith, .3586 at 80.
    const GeneralSky sky(1, toward(45, 0));
    EXPECT_NEAR(sky.relative_luminance(toward(60, 123)), .66516, 1e-5);
    EXPECT_NEAR(sky.relative_luminance(toward(80, 321)), .3586, 1e-4);
}

// Moon and Spencer (1942): L = Lz (1 + 2 sin h) / 3, whose horizontal illuminance is 7 pi Lz / 9 (its integral).
TEST(Sky, TheTraditionalOvercastSky) {
    const GeneralSky sky(16, toward(45, 0));
    for (const double zenith : {0.0, 30.0, 60.0, 80.0, 90.0})
        EXPECT_NEAR(sky.relative_luminance(toward(zenith, 123)), (1 + 2 * std::cos(zenith * pi / 180)) / 3, 1e-6);
    EXPECT_NEAR(sky.horizontal_over_zenith(), 7 * pi / 9, 2e-4);
}

TEST(Sky, HorizonIsFinite) {
    for (int type = 1; type <= 16; ++type) {
        for (double sun_zenith : {0.0, 45.0, 89.9, 95.0, 102.0}) {
            const GeneralSky sky(type, toward(sun_zenith, 0));
            for (double zenith : {0.0, 89.0, 89.9999, 90.0}) {
                const double l = sky.relative_luminance(toward(zenith, 10));
                EXPECT_TRUE(std::isfinite(l) && l > 0) << type << " " << sun_zenith << " " << zenith;
            }
        }
    }
    EXPECT_THROW(GeneralSky(0, Vec3(0, 0, 1)), std::invalid_argument);
    EXPECT_THROW(GeneralSky(17, Vec3(0, 0, 1)), std::invalid_argument);
}

TEST(Sky, HorizontalIlluminance) {
    // IES daylight availability practice (1984), klx: clear .8 + 15.5 sqrt(sin h), partly cloudy .3 + 45 sin h,
    // overcast .3 + 21 sin h (constants from memory).
    const double rows[][4] = {{60, 15.22, 39.27, 18.49}, {30, 11.76, 22.80, 10.80}, {10, 7.26, 8.114, 3.947}};
    for (const auto& [altitude, clear, partly, overcast] : rows) {
        EXPECT_NEAR(sky_horizontal_illuminance(12, Degree{altitude}).value, clear * 1000, 0.001 * clear * 1000);
        EXPECT_NEAR(sky_horizontal_illuminance(8, Degree{altitude}).value, partly * 1000, 0.001 * partly * 1000);
        EXPECT_NEAR(sky_horizontal_illuminance(3, Degree{altitude}).value, overcast * 1000, 0.001 * overcast * 1000);
    }
    // Dusk of a clear sky: about 3.4 lx at the end of civil twilight (from memory); dark at -12 degrees.
    EXPECT_NEAR(sky_horizontal_illuminance(12, Degree{-6}).value, 3.4, 0.4);
    EXPECT_GT(sky_horizontal_illuminance(12, Degree{-11.9}).value, 0.0);
    EXPECT_EQ(sky_horizontal_illuminance(12, Degree{-12}).value, 0.0);
    for (double h = -12; h < 60; h += 0.25)
        EXPECT_LT(sky_horizontal_illuminance(12, Degree{h}).value,
                  sky_horizontal_illuminance(12, Degree{h + .25}).value);
}

TEST(Sky, CompassInThePlace) {
    // Back to a near wall that faces south: the room runs north, its right hand is east.
    Place place;
    place.near_wall_faces = 180;
    const auto expect = [&](double azimuth, const Vec3& want) {
        const Vec3 got = toward_compass(place, Degree{azimuth}, Degree{0});
        EXPECT_NEAR((got - want).length(), 0, 1e-6) << place.near_wall_faces << " " << azimuth;
    };
    expect(180, Vec3(0, -1, 0));
    expect(0, Vec3(0, 1, 0));
    expect(90, Vec3(1, 0, 0));
    expect(270, Vec3(-1, 0, 0));
    // A near wall that faces east: the room runs west, its right hand is north.
    place.near_wall_faces = 90;
    expect(90, Vec3(0, -1, 0));
    expect(270, Vec3(0, 1, 0));
    expect(0, Vec3(1, 0, 0));
    const Vec3 high = toward_compass(place, Degree{90}, Degree{30});
    EXPECT_NEAR(high.z, 0.5, 1e-6);
    EXPECT_NEAR(high.y, -std::sqrt(0.75), 1e-6);
}

Day midday_in_june() {
    Day day;
    day.year = 2024, day.month = 6, day.day = 20;
    day.clock_hours = 13;
    day.utc_offset_hours = 1;
    return day;
}

Place at(double latitude, double longitude) {
    Place place;
    place.latitude = latitude;
    place.longitude = longitude;
    place.near_wall_faces = 180;
    return place;
}

TEST(Daylight, BothHemispheres) {
    // Near solar noon: in the northern winter and summer the sun stands south, in the southern north. The
    // noon altitude is 90 - |latitude - declination| (any astronomy text); June solstice: 23.44.
    const Daylight north = daylight_at(at(51.5, 0), midday_in_june());
    EXPECT_TRUE(north.lit && north.sun);
    EXPECT_LT(north.toward_sun.y, 0);
    EXPECT_NEAR(degrees(std::asin(north.toward_sun.z)).value, 90 - 51.5 + 23.44, 0.05);
    const Daylight south = daylight_at(at(-34, 0), midday_in_june());
    EXPECT_GT(south.toward_sun.y, 0);
    EXPECT_NEAR(degrees(std::asin(south.toward_sun.z)).value, 90 - 34 - 23.44, 0.05);
    // An afternoon sun stands west, to the left of a room that runs north, in either hemisphere.
    Day afternoon = midday_in_june();
    afternoon.clock_hours = 16;
    EXPECT_LT(daylight_at(at(51.5, 0), afternoon).toward_sun.x, -0.3);
    EXPECT_LT(daylight_at(at(-34, 0), afternoon).toward_sun.x, -0.3);
}

TEST(Daylight, ThePlacesOwnClock) {
    // 16 January, 09:00 by a clock 11 h ahead: altitude 35.0624 (and .024 of refraction), azimuth 93.3419, by
    // an astronomy package for 15 January 22:00 UTC.
    Day day;
    day.year = 2024, day.month = 1, day.day = 16;
    day.clock_hours = 9;
    day.utc_offset_hours = 11;
    const Place place = at(-33.8688, 151.2093);
    const Vec3 want = toward_compass(place, Degree{93.3419}, Degree{35.0624 + .024});
    EXPECT_LT(degrees((daylight_at(place, day).toward_sun - want).length()).value, 0.01);
}

TEST(Daylight, SkyAddsUpToItsIlluminance) {
    // The tracer's sky, integrated over the hemisphere, gives back the horizontal illuminance it was made for,
    // whatever the type: definition of illuminance.
    for (int type = 1; type <= 15; ++type) {
        Day day = midday_in_june();
        day.sky.cie_type = type;
        day.sky_horizontal_lux = 12'000;
        const Daylight light = daylight_at(at(51.5, 0), day);
        const double got =
            illuminance_on(Vec3(0, 0, 1), 0, [&](const Vec3& d) { return photometric(light.sky_radiance(d)); });
        EXPECT_NEAR(got, 12'000, 0.002 * 12'000) << type;
        EXPECT_EQ(light.sun, type > 5) << type;
    }
}

TEST(Daylight, DiscAndDirectionAgree) {
    // Angular diameter .533 degree: 6.797e-5 sr, and 100 klx is 1.4713e9 cd/m2 (from memory; geometry).
    Day day = midday_in_june();
    day.sun_normal_lux = 100'000;
    const Daylight light = daylight_at(at(51.5, 0), day);
    EXPECT_NEAR(photometric(light.sun_irradiance), 100'000, 10);
    EXPECT_NEAR(photometric(light.sun_radiance), 1.4713e9, 1e-4 * 1.4713e9);
    const double solid_angle = 2 * pi * (1 - light.sun_cos_radius);
    EXPECT_NEAR(solid_angle, 6.797e-5, 1e-4 * 6.797e-5);
    EXPECT_NEAR(photometric(light.sun_radiance) * solid_angle, 100'000, 10);
}

TEST(Daylight, GroundGivesBackItsShare) {
    // L = rho (E_sky + E_sun sin h) / pi: definition of a matt surface.
    Day day = midday_in_june();
    day.sky_horizontal_lux = 15'000;
    day.sun_normal_lux = 90'000;
    Place place = at(51.5, 0);
    place.ground_reflectance = 0.3;
    const Daylight light = daylight_at(place, day);
    const double want = 0.3 * (15'000 + 90'000 * light.toward_sun.z) / pi;
    EXPECT_NEAR(photometric(light.ground_radiance), want, 1e-4 * want);
    EXPECT_EQ(light.sky_radiance(toward(100, 0)), light.ground_radiance);
    // Ground of .2 under an even sky adds .1 of the horizontal to a vertical face, which has .5 from the sky.
    Day even;
    even.uniform_sky_luminance = 3000;
    place.ground_reflectance = 0.2;
    const Daylight flat = daylight_at(place, even);
    const double vertical =
        illuminance_on(Vec3(1, 0, 0), -1, [&](const Vec3& d) { return photometric(flat.sky_radiance(d)); });
    EXPECT_NEAR(vertical / (3000 * pi), 0.6, 0.001);
}

TEST(Daylight, FromDateAndWeather) {
    const Place place = at(51.5, 0);
    Day day = midday_in_june();
    const Daylight clear = daylight_at(place, day);
    const double sine = clear.toward_sun.z;
    EXPECT_NEAR(clear.sky_horizontal.value, 800 + 15'500 * std::sqrt(sine), 5);
    const double altitude = degrees(std::asin(sine)).value;
    EXPECT_NEAR(photometric(clear.sun_irradiance), direct_normal_illuminance(172, Degree{altitude}).value, 20);
    // Sunlight is warmer than 5,500 K, the clear sky far bluer than noon daylight.
    EXPECT_LT(colour_temperature(tristimulus(clear.sun_irradiance)).cct, Kelvin{5500});
    EXPECT_GT(colour_temperature(tristimulus(clear.zenith_radiance)).cct, Kelvin{10'000});

    day.sky.cie_type = 8;
    const Daylight broken = daylight_at(place, day);
    EXPECT_NEAR(photometric(broken.sun_irradiance), direct_normal_illuminance(172, Degree{altitude}, 0.8).value, 20);

    day.sky.cie_type = 1;
    const Daylight overcast = daylight_at(place, day);
    EXPECT_FALSE(overcast.sun);
    EXPECT_TRUE(overcast.sun_irradiance.dark());
    EXPECT_NEAR(colour_temperature(tristimulus(overcast.zenith_radiance)).cct.value, 6500, 20);
}

TEST(Daylight, ReadingsGoFirst) {
    const Place place = at(51.5, 0);
    Day day = midday_in_june();
    day.sky_kelvin = 9000;
    day.sun_kelvin = 4300;
    const Daylight tinted = daylight_at(place, day);
    EXPECT_NEAR(colour_temperature(tristimulus(tinted.zenith_radiance)).cct.value,
                colour_temperature(tristimulus(white_light(Kelvin{9000}))).cct.value, 1);
    EXPECT_NEAR(colour_temperature(tristimulus(tinted.sun_radiance)).cct.value,
                colour_temperature(tristimulus(white_light(Kelvin{4300}))).cct.value, 1);

    Day even = midday_in_june();
    even.uniform_sky_luminance = 3000;
    const Daylight flat = daylight_at(place, even);
    EXPECT_TRUE(flat.lit && flat.sky.gradation() == GeneralSky().gradation());
    EXPECT_FALSE(flat.sun);
    EXPECT_NEAR(flat.sky_horizontal.value, 3000 * pi, 1e-6);
    for (double zenith : {0.0, 40.0, 89.0}) EXPECT_NEAR(photometric(flat.sky_radiance(toward(zenith, 70))), 3000, 0.5);
    even.sun_normal_lux = 50'000;
    EXPECT_TRUE(daylight_at(place, even).sun);

    Day no_sun = midday_in_june();
    no_sun.sun_normal_lux = 0;
    EXPECT_FALSE(daylight_at(place, no_sun).sun);
    Day hidden = midday_in_june();
    hidden.sky.sun = false;
    EXPECT_FALSE(daylight_at(place, hidden).sun);
    EXPECT_TRUE(daylight_at(place, hidden).lit);
}

// From memory: 6,500 K under cloud by day, some 9,500 K at the end of civil twilight; a clear sky is bluer at any hour.
TEST(Daylight, TheBlueHour) {
    EXPECT_NEAR(usual_sky_kelvin(1, Degree{30}).value, 6500, 1);
    EXPECT_NEAR(usual_sky_kelvin(1, Degree{-6}).value, 9500, 1);
    double before = 0;
    for (const double altitude : {10.0, 2.0, 0.0, -3.0, -6.0}) {
        const double now = usual_sky_kelvin(12, Degree{altitude}).value;
        EXPECT_GE(now, before);
        EXPECT_GT(now, usual_sky_kelvin(3, Degree{altitude}).value);
        before = now;
    }
    // It is in the light as well: of an evening at 50 N, an hour after the sun has gone.
    Place place;
    place.latitude = 50;
    Day day;
    day.month = 10;
    day.day = 14;
    day.sky = {1, false};
    day.clock_hours = 12;
    const double noon = colour_temperature(tristimulus(daylight_at(place, day).zenith_radiance)).cct.value;
    day.clock_hours = 17.6;
    const double dusk = colour_temperature(tristimulus(daylight_at(place, day).zenith_radiance)).cct.value;
    EXPECT_GT(dusk, noon + 1000);
}

TEST(Daylight, Night) {
    Day day = midday_in_june();
    day.month = 12;
    day.clock_hours = 1;
    const Daylight night = daylight_at(at(51.5, 0), day);
    EXPECT_FALSE(night.lit || night.sun);
    EXPECT_TRUE(night.sky_radiance(toward(30, 0)).dark());
    Day dark = midday_in_june();
    dark.dark = true;
    EXPECT_FALSE(daylight_at(at(51.5, 0), dark).lit);
}

// Square to the sun a clear sky has 70 to 80 % (sky polarimetry, from memory); light under cloud has lost its swing.
TEST(Daylight, SkySwingsSquareToTheSun) {
    Place place;
    Day day;
    day.clock_hours = 15;
    day.sky.cie_type = 12;
    const Daylight clear = daylight_at(place, day);
    Vec3 square = clear.toward_sun.cross(Vec3(0, 0, 1)).normalized();
    square = (square + Vec3(0, 0, 1e-3F)).normalized();
    const Polarisation s = clear.polarisation(square);
    EXPECT_GT(s.degree, 0.7F);
    EXPECT_LT(s.degree, 0.8F);
    EXPECT_NEAR(s.along.normalized().dot(clear.toward_sun), 0, 1e-5F);
    EXPECT_NEAR(s.along.normalized().dot(square), 0, 1e-5F);
    EXPECT_NEAR(clear.polarisation(clear.toward_sun).degree, 0, 1e-5F);
    EXPECT_EQ(clear.polarisation({0, 0, -1}).degree, 0);
    double before = 1;
    for (const int type : {12, 13, 14, 8, 1}) {
        day.sky.cie_type = type;
        const double degree = static_cast<double>(daylight_at(place, day).polarisation(square).degree);
        EXPECT_LT(degree, before) << type;
        before = degree;
    }
    EXPECT_EQ(before, 0);
    day.sky.cie_type = 12;
    day.uniform_sky_luminance = 4000;
    EXPECT_EQ(daylight_at(place, day).polarisation(square).degree, 0);
}

}  // namespace
}  // namespace rushlight
