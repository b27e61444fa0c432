// Spectra of different kinds of lamps at one and the same colour temperature: they look equal to the eye, but not on
// skin or cloth.
#pragma once

#include "quantity/colour.h"

#include <optional>

namespace rushlight {

enum class LightKind {
    plain,            // a smooth white: what is meant when nobody said more
    tungsten,         // filament: a black body
    daylight,         // CIE daylight, as filtered arc or good daylight tubes come near it
    white_led,        // blue pump and one broad hump of phosphor
    wide_led,         // violet pump and several phosphors: bands of blue, green and red
    two_channel_led,  // a warm and a cool white LED, mixed: under the locus between its ends
    fluorescent       // mercury lines and the narrow lines of three phosphors
};

/// One photometric unit of a lamp of that kind with the correlated colour temperature `k`, as seen through our bands.
/// `duv` is its distance from the Planckian locus (ANSI C78.377: positive is green); left out: what the kind has by
/// nature (0, but daylight about +0.003, and under the locus for two channels). Nothing where the kind cannot reach it.
/// The shapes of the LED and fluorescent families are invented to look like published ones, from memory.
std::optional<Spectrum> lamp_spectrum(LightKind kind, Kelvin k, std::optional<double> duv = std::nullopt);

/// Band shares of a colour filter that moves `light` by `duv` (green positive, magenta negative) at unchanged
/// correlated colour temperature and passes `transmission` of it photometrically, or as much of it as can be.
Spectrum green_gel(double duv, double transmission, const Spectrum& light);

/// Correlated colour temperature of a filament dimmed to `level` of its light. With voltage, light goes as its power
/// 3.4 and colour temperature as its power 0.42 (published lamp laws, from memory): so kelvin goes as light to 0.124.
Kelvin dimmed_filament(Kelvin at_full, double level);

}  // namespace rushlight
