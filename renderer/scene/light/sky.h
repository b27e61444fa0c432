// The light outside: where the sun stands, how bright it and the sky are, in spectra.
#pragma once

#include "quantity/content.h"
#include "quantity/space.h"
#include "quantity/spectrum.h"
#include "quantity/units.h"
#include "scene/surface/polarizer.h"
#include "setup/plain/place.h"

#include <array>

namespace rushlight {

/// Compass azimuth (clockwise from true north) and altitude above the level horizon.
struct SunPosition {
    Degree azimuth, altitude;
};

/// Meeus, Astronomical Algorithms ch. 25 (low precision, about 0.01 degree) with the refraction of ch. 16
/// if asked; `utc_hours` may lie outside 0..24.
SunPosition sun_position(int year, int month, int day, double utc_hours, Degree latitude, Degree longitude,
                         bool refracted = true);

/// a and b of the CIE general sky's gradation, c, d and e of its indicatrix (ISO 15469:2004).
using SkyGradation = std::array<double, 5>;

/// Relative luminance of the CIE general sky (ISO 15469:2004), zenith = 1.
class GeneralSky {
public:
    GeneralSky();  // even all over
    GeneralSky(int cie_type, const Vec3& toward_sun);
    GeneralSky(const SkyGradation& gradation, const Vec3& toward_sun);
    double relative_luminance(const Vec3& toward) const;  // `toward` unit, z >= 0
    /// Horizontal illuminance over zenith luminance, sr, by quadrature.
    double horizontal_over_zenith() const;
    const SkyGradation& gradation() const { return gradation_; }

private:
    SkyGradation gradation_;
    Vec3 sun_;
    double at_zenith_;  // phi(0) f(Zs), unscaled
};

/// Direct normal illuminance, E_sc [1 + .034 cos(2 pi (J-2)/365)] exp(-c m) at the solar illuminance constant E_sc,
/// with c the `extinction` of one air mass and m that of Kasten and Young (IES daylight availability practice, 1984;
/// constants from memory).
Lux direct_normal_illuminance(int day_of_year, Degree altitude, double extinction = 0.21);

/// Optical air mass of an apparent altitude, 1 overhead, 38 at the horizon (Kasten and Young, Applied
/// Optics 28(22), 1989; constants from memory).
double air_mass(Degree altitude);

/// Colour of the sun's disc at an apparent altitude, one photometric unit: a black body of 5,800 K behind
/// `air_mass` of clear air (Rayleigh scattering, ozone, haze).
Spectrum sunlight(Degree altitude);

/// Horizontal illuminance from the sky alone (sky of `cie_type`, sun at `altitude`), by day after the IES
/// daylight availability practice (1984; constants from memory), through dusk falling to nothing at -12.
Lux sky_horizontal_illuminance(int cie_type, Degree altitude);

/// Colour temperature of the sky's light when nobody measured it: by its type, and bluer as dusk falls. From memory.
Kelvin usual_sky_kelvin(int cie_type, Degree altitude);

/// Degree of polarisation of a sky of this type, square to the sun: .77 of a clear one, which is what is left of
/// Rayleigh's 1 after haze and second scatterings; less the hazier it is, none under cloud. From memory.
double usual_polarisation(int cie_type);

/// Everything that the tracer needs to know of the outside, in the place's frame.
struct Daylight {
    bool lit = false;  // false at night or when the day is dark
    bool sun = false;  // the disc is up and shines
    Vec3 toward_sun{0, 0, 1};
    Spectrum sun_irradiance;    // on a surface facing the sun (lux)
    Spectrum sun_radiance;      // of the disc (cd/m2), even over it
    double sun_cos_radius = 1;  // cosine of the disc's angular radius
    Spectrum zenith_radiance;   // sky spectrum scaled to zenith luminance
    Spectrum ground_radiance;   // seen below the horizon: rho (E_sky + E_sun sin h) / pi
    Lux sky_horizontal;
    GeneralSky sky;             // how the sky's light is spread over it
    double most_polarised = 0;  // share of the sky's light that is polarised, square to the sun

    /// Sky or ground seen along unit `toward`; the sun's disc is not in it.
    Spectrum sky_radiance(const Vec3& toward) const;
    /// How the sky's light from there is polarised: along the normal of the plane of sun and sight, as light does that
    /// air has scattered once, most p sin^2 t / (1 + cos^2 t) at t from the sun (Rayleigh 1871; optics texts). None
    /// from the ground.
    Polarisation polarisation(const Vec3& toward) const;
};

/// All of it, to be fingerprinted.
void add_content(Content& content, const Daylight& daylight);

inline constexpr double sun_angular_diameter = 0.533;  // degrees

/// Readings in `day` go before what date and weather say. Overcast types (1 to 5) have no disc; nor has an
/// even sky of given luminance, unless a reading of the sun is given too. Throws std::invalid_argument when
/// the sky's type is not 1 to 15.
Daylight daylight_at(const Place& place, const Day& day);

/// Compass degrees to a direction in the place's frame at altitude `altitude`.
Vec3 toward_compass(const Place& place, Degree azimuth, Degree altitude);

}  // namespace rushlight
