// From what is said about a lamp ("2500 lx at 1 m") to what leaves it.
#pragma once

#include "setup/plain/rig.h"
#include "setup/text/typed_values.h"

namespace rushlight {

/// Lux on the aim at `distance` from the middle of a lamp of one cd/m2, on a receptor that faces it. Exact for
/// an even Lambertian rectangle, sphere and cylinder:
///   box   E = 2 L [a / sqrt(1 + a^2) atan(b / sqrt(1 + a^2)) + b / sqrt(1 + b^2) atan(a / sqrt(1 + b^2))],
///         a = width / (2 d), b = height / (2 d);
///   ball  E = pi L (R / d)^2;
///   tube  E = L D / d [atan(t) + t / (1 + t^2)], t = length / (2 d);
///   ring  E = pi L [R^2 / (R^2 + d^2) - r^2 / (r^2 + d^2)], the outer disc less the inner.
/// (Configuration factors of rectangle, sphere and disc: any heat-transfer handbook; the tube integrates
/// L D cos^2 / r^2 along its axis.) Not for hard lamps, which are given by candela.
double lux_per_luminance(const Lamp& lamp, double distance);
/// Lumen that leave a lamp of one cd/m2: pi L times the glowing area (box: one side).
double flux_per_luminance(const Lamp& lamp);

/// Lux on the aim at `distance` from the middle of a lamp with a luminaire file, as the file has it: its opening
/// summed over a fine grid, each part with the luminance I(direction) / (projected area).
double luminaire_lux(const Lamp& lamp, double distance);

/// Kind and photometric amount of a lamp's light. For hard: candela = lx d^2. A box, ball or tube given by lux
/// is turned into lumen with the functions above, so that its size counts; so is any lamp with a luminaire file.
/// No light where the file has none on the aim.
struct LampLight {
    Lamp::Output kind = Lamp::Output::lumen;
    double amount = 0;
};
LampLight lamp_light(const Lamp& lamp, const TypedOutput& typed);

/// Solid angle of the beam cone, sr: 2 pi (1 - cos(beam / 2)).
double beam_solid_angle(double beam_degrees);

}  // namespace rushlight
