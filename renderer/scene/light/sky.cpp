#include "scene/light/sky.h"

#include "quantity/colour.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <stdexcept>
#include <string>

namespace rushlight {

namespace {

// ISO 15469:2004 (CIE S 011), table 1: zenith-to-horizon gradation a, b and scattering indicatrix c, d, e.
constexpr SkyGradation general_skies[16] = {
    {4.0, -0.70, 0, -1.0, 0},       // 1 overcast, steep gradation, even all round
    {4.0, -0.70, 2, -1.5, 0.15},    // 2 overcast, steep, a little brighter at the sun
    {1.1, -0.8, 0, -1.0, 0},        // 3 overcast, moderate gradation, even all round
    {1.1, -0.8, 2, -1.5, 0.15},     // 4 overcast, moderate, a little brighter at the sun
    {0, -1.0, 0, -1.0, 0},          // 5 uniform
    {0, -1.0, 2, -1.5, 0.15},       // 6 partly cloudy, no gradation, a little brighter at the sun
    {0, -1.0, 5, -2.5, 0.30},       // 7 partly cloudy, no gradation, brighter round the sun
    {0, -1.0, 10, -3.0, 0.45},      // 8 partly cloudy, no gradation, corona
    {-1.0, -0.55, 2, -1.5, 0.15},   // 9 partly cloudy, sun hidden
    {-1.0, -0.55, 5, -2.5, 0.30},   // 10 partly cloudy, brighter round the sun
    {-1.0, -0.55, 10, -3.0, 0.45},  // 11 white-blue, corona
    {-1.0, -0.32, 10, -3.0, 0.45},  // 12 clear, clean air
    {-1.0, -0.32, 16, -3.0, 0.30},  // 13 clear, polluted air
    {-1.0, -0.15, 16, -3.0, 0.30},  // 14 cloudless, turbid, broad corona
    {-1.0, -0.15, 24, -2.8, 0.15},  // 15 white-blue, turbid, broad corona
    {2.0, 1.0, 0, -1.0, 0},         // 16 the traditional overcast sky (Moon and Spencer 1942): 1 + a sin, see below
};

const SkyGradation& gradation_of(int cie_type) {
    if (cie_type < 1 || cie_type > 16)
        throw std::invalid_argument("sky of CIE type " + std::to_string(cie_type) + ": expected 1 to 16");
    return general_skies[cie_type - 1];
}

/// phi f of the standard, unscaled. The angle to the sun comes from the chord between the two unit vectors:
/// right beside the sun, where the sky is steepest, their dot product has no digits left in float.
double unscaled_luminance(const SkyGradation& g, const Vec3& toward, const Vec3& sun) {
    const auto [a, b, c, d, e] = g;
    const double up = toward.z;
    // b < 0: nothing left at the horizon. The traditional sky, which has no exponent, rises with the sine.
    const double gradation = up > 0 ? 1 + (b < 0 ? a * std::exp(b / up) : a * up) : 1.0;
    if (c == 0 && e == 0) return gradation;
    const double chord = std::min(2.0, static_cast<double>((toward - sun).length()));
    const double chi = 2 * std::asin(chord / 2), cosine = 1 - chord * chord / 2;
    return gradation * (1 + c * (std::exp(d * chi) - std::exp(d * pi / 2)) + e * cosine * cosine);
}

/// Colour temperature that a sky of this type has by and large while the sun is up; from memory.
Kelvin sky_kelvin_by_day(int cie_type) {
    switch (weather_of(cie_type)) {
        case Weather::overcast:
            return Kelvin{6500};
        case Weather::mixed:
            return Kelvin{8000};
        case Weather::clear:
            break;
    }
    return cie_type == 12 ? Kelvin{15'000} : Kelvin{12'000};
}

int day_of_year(const Day& day) {
    using namespace std::chrono;
    const year y{day.year};
    const sys_days date = y / month{static_cast<unsigned>(day.month)} / day.day;
    return static_cast<int>((date - sys_days{y / January / 1}).count()) + 1;
}

/// Facing the sun, from the date or the reading. Overcast skies and even ones have no disc of their own.
Lux sun_normal(const Day& day, Degree altitude) {
    const bool even = day.uniform_sky_luminance >= 0;
    if (!day.sky.sun || !(altitude.value > 0)) return Lux{0};
    if (!even && weather_of(day.sky.cie_type) == Weather::overcast) return Lux{0};
    if (day.sun_normal_lux >= 0) return Lux{day.sun_normal_lux};
    if (even) return Lux{0};
    const double extinction = weather_of(day.sky.cie_type) == Weather::clear ? 0.21 : 0.80;
    return direct_normal_illuminance(day_of_year(day), altitude, extinction);
}

}  // namespace

GeneralSky::GeneralSky() : GeneralSky(uniform_sky_type, Vec3(0, 0, 1)) {}

GeneralSky::GeneralSky(int cie_type, const Vec3& toward_sun) : GeneralSky(gradation_of(cie_type), toward_sun) {}

GeneralSky::GeneralSky(const SkyGradation& gradation, const Vec3& toward_sun)
    : gradation_(gradation), sun_(toward_sun), at_zenith_(unscaled_luminance(gradation, Vec3(0, 0, 1), toward_sun)) {}

double GeneralSky::relative_luminance(const Vec3& toward) const {
    return unscaled_luminance(gradation_, toward, sun_) / at_zenith_;
}

double GeneralSky::horizontal_over_zenith() const {
    // Equal shares of the projected hemisphere: rings of equal sine squared from the zenith. The midpoints
    // of these agree with four times as many each way to 6e-5, at every type and height of the sun tried.
    constexpr int rings = 200, sectors = 400;
    double sum = 0;
    for (int i = 0; i < rings; ++i) {
        const double sine2 = (i + 0.5) / rings;
        const double across = std::sqrt(sine2), up = std::sqrt(1 - sine2);
        for (int j = 0; j < sectors; ++j) {
            const double azimuth = 2 * pi * (j + 0.5) / sectors;
            const Vec3 toward(static_cast<float>(across * std::cos(azimuth)),
                              static_cast<float>(across * std::sin(azimuth)), static_cast<float>(up));
            sum += relative_luminance(toward);
        }
    }
    return pi * sum / (rings * sectors);
}

Lux sky_horizontal_illuminance(int cie_type, Degree altitude) {
    const double sine = std::sin(radians(Degree{std::max(0.0, altitude.value)}));
    double by_day = 0;
    switch (weather_of(cie_type)) {
        case Weather::overcast:
            by_day = 300 + 21'000 * sine;
            break;
        case Weather::mixed:
            by_day = 300 + 45'000 * sine;
            break;
        case Weather::clear:
            by_day = 800 + 15'500 * std::sqrt(sine);
            break;
    }
    // Dusk: a factor ten for every 2.5 degrees of depth, which leads from the 800 lx of a clear sunset to about
    // 3 lx at the end of civil twilight and a hundredth of a lux at -12 degrees (usual values, from memory);
    // from there it is night.
    constexpr double night = -12;
    if (altitude.value <= night) return Lux{0};
    return Lux{by_day * std::pow(10.0, 0.4 * std::min(0.0, altitude.value))};
}

Kelvin usual_sky_kelvin(int cie_type, Degree altitude) {
    // The blue hour: once the sun is low its light goes a long way through ozone, which takes out the middle of the
    // spectrum. Measured twilights of covered skies rise from 6,500 K to some 9,500 K at the end of civil twilight
    // (from memory); the same share of the mired is taken from the others.
    constexpr double begins = 2, deepest = -6, left = 6500.0 / 9500.0;
    const double depth = std::clamp((begins - altitude.value) / (begins - deepest), 0.0, 1.0);
    const Kelvin by_day = sky_kelvin_by_day(cie_type);
    return Kelvin{by_day.value / (1 - depth * (1 - left))};
}

Vec3 toward_compass(const Place& place, Degree azimuth, Degree altitude) {
    // The room runs away from what the near wall faces, and x lies a quarter turn clockwise of y.
    const double from_y = radians(Degree{azimuth.value - place.near_wall_faces - 180.0});
    const double level = std::cos(radians(altitude));
    return {static_cast<float>(level * std::sin(from_y)), static_cast<float>(level * std::cos(from_y)),
            static_cast<float>(std::sin(radians(altitude)))};
}

Spectrum Daylight::sky_radiance(const Vec3& toward) const {
    if (toward.z < 0) return ground_radiance;
    return zenith_radiance * static_cast<float>(sky.relative_luminance(toward));
}

Polarisation Daylight::polarisation(const Vec3& toward) const {
    if (toward.z < 0 || !(most_polarised > 0)) return {};
    const double cosine = toward.dot(toward_sun), across = 1 - cosine * cosine;
    return {static_cast<float>(most_polarised * across / (1 + cosine * cosine)), toward_sun.cross(toward)};
}

double usual_polarisation(int cie_type) {
    switch (weather_of(cie_type)) {
        case Weather::overcast:
            return 0;
        case Weather::mixed:
            return cie_type == 6 ? 0.1 : 0.3;  // blue between clouds
        case Weather::clear:
            break;
    }
    return cie_type == 12 ? 0.77 : cie_type == 13 ? 0.6 : 0.4;
}

Daylight daylight_at(const Place& place, const Day& day) {
    Daylight light;
    if (day.dark) return light;

    const SunPosition sun = sun_position(day.year, day.month, day.day, day.clock_hours - day.utc_offset_hours,
                                         Degree{place.latitude}, Degree{place.longitude});
    light.toward_sun = toward_compass(place, sun.azimuth, sun.altitude);
    const bool even = day.uniform_sky_luminance >= 0;
    const int sky_type = even ? uniform_sky_type : day.sky.cie_type;
    light.sky = GeneralSky(sky_type, light.toward_sun);
    light.most_polarised = usual_polarisation(sky_type);

    // Measured values override those that follow from the date.
    Luminance zenith;
    if (even) {
        zenith = Luminance{day.uniform_sky_luminance};
        light.sky_horizontal = Lux{pi * zenith.value};
    } else {
        light.sky_horizontal = day.sky_horizontal_lux >= 0 ? Lux{day.sky_horizontal_lux}
                                                           : sky_horizontal_illuminance(day.sky.cie_type, sun.altitude);
        zenith = Luminance{light.sky_horizontal.value / light.sky.horizontal_over_zenith()};
    }
    const Kelvin sky_kelvin = day.sky_kelvin > 0 ? Kelvin{day.sky_kelvin} : usual_sky_kelvin(sky_type, sun.altitude);
    const Spectrum sky_shape = white_light(sky_kelvin);
    light.zenith_radiance = scaled_to(sky_shape, zenith.value);

    const Lux facing_sun = sun_normal(day, sun.altitude);
    light.sun = facing_sun.value > 0;
    light.sun_cos_radius = std::cos(radians(Degree{sun_angular_diameter / 2}));
    if (light.sun) {
        const Spectrum shape = day.sun_kelvin > 0 ? white_light(Kelvin{day.sun_kelvin}) : sunlight(sun.altitude);
        const double sine = std::sin(radians(Degree{sun_angular_diameter / 2}));
        light.sun_irradiance = scaled_to(shape, facing_sun.value);
        light.sun_radiance = light.sun_irradiance * static_cast<float>(1.0 / (pi * sine * sine));
    }

    const Spectrum on_ground =
        scaled_to(sky_shape, light.sky_horizontal.value) + light.sun_irradiance * std::max(0.0F, light.toward_sun.z);
    light.ground_radiance = on_ground * static_cast<float>(place.ground_reflectance / pi);
    light.lit = light.sun || light.sky_horizontal.value > 0;
    if (day.factor != 1) {
        const auto factor = static_cast<float>(day.factor);
        for (Spectrum* s : {&light.sun_irradiance, &light.sun_radiance, &light.zenith_radiance, &light.ground_radiance})
            *s *= factor;
        light.sky_horizontal = Lux{light.sky_horizontal.value * day.factor};
    }
    return light;
}

void add_content(Content& content, const Daylight& daylight) {
    const auto& [lit, sun, toward_sun, sun_irradiance, sun_radiance, sun_cos_radius, zenith_radiance, ground_radiance,
                 sky_horizontal, sky, most_polarised] = daylight;
    content << lit << sun << toward_sun << sun_irradiance << sun_radiance << sun_cos_radius << zenith_radiance
            << ground_radiance << sky_horizontal.value << most_polarised;
    for (const double g : sky.gradation()) content << g;
}

}  // namespace rushlight
