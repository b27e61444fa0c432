// The meter's arithmetic (ISO 2720). One convention is used throughout and printed with every stop:
// incident light with a flat receptor, C = 250 lx s; grey is an 18 % card lit by that same light.
#pragma once

#include "quantity/units.h"

namespace rushlight {

/// Receptor constants in use; the default puts T and lux in the relation most meters show.
inline constexpr double incident_constant_flat = 250.0;  // lx s, ISO 2720 range 240..400
inline constexpr double incident_constant_dome = 320.0;  // lx s, ISO 2720 range 320..540
inline constexpr double reflected_constant = 12.5;       // cd s/m2, K of most spot meters; ISO 2720 range 10.6..13.4
inline constexpr double grey_reflectance = 0.18;

/// The stops by which a spot reads higher when it counts from L = K T^2 / (t S) instead of from the 18 % card.
inline Stop over_spot_grey() {
    return Stop{std::log2(grey_reflectance * incident_constant_flat / pi / reflected_constant)};
}

struct Exposure {
    double t_stop = 2.8;
    double shutter_angle = 180.0;  // degrees
    double frames_per_second = 24.0;
    double iso = 800.0;
    double nd_density = 0.0;    // optical density before the lens: 0.3 is one stop
    double filter_stops = 0.0;  // what other filters there take from everything alike (a polarizer)

    /// t = angle / (360 fps).
    constexpr Second shutter_time() const { return Second{shutter_angle / (360.0 * frames_per_second)}; }
    /// Light lost to the ND: D / log10(2).
    Stop nd_loss() const { return Stop{nd_density / std::log10(2.0)}; }
};

/// Lux on a flat receptor that asks for exactly this exposure: E = C T^2 / (t S), times what the ND takes.
Lux metered_illuminance(const Exposure& e, double receptor_constant = incident_constant_flat);
/// Luminance of the 18 % card that this exposure places at grey: L = 0.18 E / pi.
Luminance grey_luminance(const Exposure& e);
/// T-stop that an incident meter shows for `light`: T = sqrt(E t S / C), with the ND allowed for.
double metered_t_stop(Lux light, const Exposure& e, double receptor_constant = incident_constant_flat);
/// Stops that `light` lies over what the exposure asks for.
Stop over_exposure(Lux light, const Exposure& e);
/// Stops that `l` lies over grey in the finished picture.
Stop over_grey(Luminance l, const Exposure& e);

}  // namespace rushlight
