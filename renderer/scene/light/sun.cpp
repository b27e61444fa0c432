#include "scene/light/sky.h"

#include "quantity/colour.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

double sine(double degree) {
    return std::sin(radians(Degree{degree}));
}
double cosine(double degree) {
    return std::cos(radians(Degree{degree}));
}
double full_circle(double degree) {
    return degree - 360.0 * std::floor(degree / 360.0);
}

/// Julian day of midnight, Gregorian calendar (Meeus ch. 7).
double julian_day(int year, int month, int day) {
    if (month <= 2) {
        year -= 1;
        month += 12;
    }
    const double century = std::floor(year / 100.0);
    return std::floor(365.25 * (year + 4716)) + std::floor(30.6001 * (month + 1)) + day + 2 - century +
           std::floor(century / 4) - 1524.5;
}

struct SunInSky {
    double right_ascension, declination, sidereal_time, distance;  // degrees; astronomical units
};

/// Apparent place of the sun (Meeus ch. 25, low precision) and the apparent sidereal time of Greenwich
/// (ch. 12). Universal time stands for dynamical time: the minute between them moves the sun by 0.001 degree.
SunInSky sun_in_sky(double day_number) {
    const double days = day_number - 2'451'545.0;
    const double t = days / 36'525.0;
    const double mean_longitude = 280.46646 + t * (36'000.76983 + t * 0.0003032);
    const double anomaly = 357.52911 + t * (35'999.05029 - t * 0.0001537);
    const double eccentricity = 0.016708634 - t * (0.000042037 + t * 0.0000001267);
    const double centre = (1.914602 - t * (0.004817 + t * 0.000014)) * sine(anomaly) +
                          (0.019993 - t * 0.000101) * sine(2 * anomaly) + 0.000289 * sine(3 * anomaly);
    const double node = 125.04 - 1934.136 * t;
    const double nutation = -0.00478 * sine(node);
    const double longitude = mean_longitude + centre - 0.00569 + nutation;
    const double mean_obliquity = 23.4392911 - t * (0.0130042 + t * (1.64e-7 - t * 5.036e-7));
    const double obliquity = mean_obliquity + 0.00256 * cosine(node);
    const double sidereal = 280.46061837 + 360.98564736629 * days + t * t * (0.000387933 - t / 38'710'000.0);

    SunInSky sun{};
    sun.right_ascension = degrees(std::atan2(cosine(obliquity) * sine(longitude), cosine(longitude))).value;
    sun.declination = degrees(std::asin(sine(obliquity) * sine(longitude))).value;
    sun.sidereal_time = full_circle(sidereal) + nutation * cosine(obliquity);
    sun.distance = 1.000001018 * (1 - eccentricity * eccentricity) / (1 + eccentricity * cosine(anomaly + centre));
    return sun;
}

/// Degrees by which air of 1,010 mbar and 10 C lifts a light at true altitude `h` (Meeus ch. 16, from true to
/// apparent). The formula is made for what can be seen: below -1 degree the lift fades with the depth.
double refraction(double h) {
    const auto lift = [](double altitude) {
        return 1.02 / std::tan(radians(Degree{altitude + 10.3 / (altitude + 5.11)})) / 60.0;
    };
    if (h >= 90) return 0;
    constexpr double lowest = -1.0;
    if (h >= lowest) return std::max(0.0, lift(h));
    return lift(lowest) * std::tan(radians(Degree{lowest})) / std::tan(radians(Degree{h}));
}

}  // namespace

SunPosition sun_position(int year, int month, int day, double utc_hours, Degree latitude, Degree longitude,
                         bool refracted) {
    const SunInSky sun = sun_in_sky(julian_day(year, month, day) + utc_hours / 24.0);
    const double hour_angle = sun.sidereal_time + longitude.value - sun.right_ascension;
    const double sin_lat = sine(latitude.value), cos_lat = cosine(latitude.value);
    const double sin_dec = sine(sun.declination), cos_dec = cosine(sun.declination);

    // The sun's direction in east, north and up.
    const double east = -cos_dec * sine(hour_angle);
    const double north = sin_dec * cos_lat - cos_dec * sin_lat * cosine(hour_angle);
    const double up = sin_dec * sin_lat + cos_dec * cos_lat * cosine(hour_angle);
    double altitude = degrees(std::atan2(up, std::hypot(east, north))).value;
    // Seen from the ground and not from the centre of the earth: parallax of 8.794 arc seconds (Meeus ch. 40).
    altitude -= 8.794 / 3600.0 / sun.distance * cosine(altitude);
    if (refracted) altitude += refraction(altitude);
    return {Degree{full_circle(degrees(std::atan2(east, north)).value)}, Degree{altitude}};
}

double air_mass(Degree altitude) {
    const double h = std::clamp(altitude.value, 0.0, 90.0);
    return 1.0 / (sine(h) + 0.50572 * std::pow(h + 6.07995, -1.6364));
}

Lux direct_normal_illuminance(int day_of_year, Degree altitude, double extinction) {
    if (!(altitude.value > 0)) return Lux{0};
    constexpr double outside_the_air = 127'500.0;  // lx at the mean distance of the sun
    const double distance_factor = 1 + 0.034 * std::cos(2 * pi * (day_of_year - 2) / 365.0);
    return Lux{outside_the_air * distance_factor * std::exp(-extinction * air_mass(altitude))};
}

Spectrum sunlight(Degree altitude) {
    // Optical depths, w in micrometres, all from memory: Rayleigh at sea level 0.008735 w^-4.08 and ozone, 0.32
    // atm-cm of the absorption that Leckner lists (Solar Energy 20, 1978; means over the bands); haze after
    // Angstrom, beta w^-1.3, with the beta that brings the sum at 555 nm up to the 0.21 of
    // direct_normal_illuminance().
    constexpr double haze = 0.0397;
    constexpr double ozone_amount = 0.32;
    constexpr std::array<double, bands> ozone{0,     0,     0.003, 0.010, 0.022, 0.039, 0.062, 0.088,
                                              0.115, 0.118, 0.118, 0.091, 0.068, 0.047, 0.029, 0.018};
    const double mass = air_mass(altitude);
    // Ozone floats high: even at the horizon a ray crosses its layer at a slant, 12 times its thickness
    // (Robinson 1966, from memory).
    const double sine_altitude = sine(std::clamp(altitude.value, 0.0, 90.0));
    const double ozone_mass = 1.0035 / std::sqrt(sine_altitude * sine_altitude + 0.007);
    Spectrum light = blackbody(Kelvin{5800});
    for (int b = 0; b < bands; ++b) {
        const double w = band_centre(b) / 1000.0;
        const double depth = 0.008735 * std::pow(w, -4.08) + haze * std::pow(w, -1.3);
        const double absorbed = ozone_amount * ozone[static_cast<std::size_t>(b)];
        light[b] *= static_cast<float>(std::exp(-depth * mass - absorbed * ozone_mass));
    }
    return scaled_to(light, 1.0);
}

}  // namespace rushlight
