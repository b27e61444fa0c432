// Colour of light: what a colour temperature looks like in bands, and what bands look like to an eye.
#pragma once

#include "quantity/matrix.h"
#include "quantity/spectrum.h"
#include "quantity/units.h"

namespace rushlight {

/// CIE 1931 tristimulus values; Y in photometric units (cd/m2 or lux).
struct Tristimulus {
    double x = 0, y = 0, z = 0;
};
/// CIE 1931 chromaticity.
struct Chromaticity {
    double x = 0, y = 0;
};
/// Linear light with ITU-R BT.709 primaries and a D65 white; Y keeps its unit. May be negative out of gamut.
struct LinearRgb {
    float r = 0, g = 0, b = 0;
};

Tristimulus tristimulus(const Spectrum& light);
Chromaticity chromaticity(const Tristimulus& t);

inline constexpr double second_radiation_constant = 0.014388;  // m K, of Planck's law

/// Planck's law at `k`, one photometric unit. For filament and flame, any k.
Spectrum blackbody(Kelvin k);
/// CIE daylight of nominal `k`, 4,000..25,000 K (CIE 15), one photometric unit.
Spectrum daylight(Kelvin k);
/// The spectrum of a head or window of colour temperature `k`, when nothing more is known: blackbody up to 4,000 K,
/// daylight from 5,000 K, blended in mired between, so that a sweep of kelvin has no jump.
Spectrum white_light(Kelvin k);

/// Correlated colour temperature and distance from the Planckian locus in u,v (positive: green side),
/// by Ohno's triangular and parabolic solutions (LEUKOS 10(1), 2014; ANSI C78.377 for the sign). The locus
/// runs from 1,000 to 100,000 K: light beyond an end gets the end. No light at all gets 0 K.
struct ColourTemperature {
    Kelvin cct;
    double duv = 0;
};
ColourTemperature colour_temperature(const Tristimulus& t);

/// Band shares of a colour filter that shifts `mired(k)` by `shift` when put before light of `base`, neither
/// to green nor to magenta, and passes `transmission` of it photometrically. No band passes more than all of
/// its light: where no such filter can pass so much, the colour is kept and it passes less.
Spectrum gel(Mired shift, double transmission, Kelvin base);

/// Light of this colour temperature `duv` off its locus: what a balance with a tint takes for white, luminance 1.
Tristimulus tinted_white(Kelvin k, double duv);

/// XYZ as the eye that takes `from` for white would match it when it takes `to` for white: linear Bradford
/// adaptation (ICC profile specification annex E).
Matrix bradford(const Tristimulus& from, const Tristimulus& to);

/// XYZ to linear BT.709 with the given white mapped to equal R, G, B (Bradford adaptation,
/// ICC profile specification annex E).
class WhiteBalance {
public:
    /// `tint`: Duv of the light that is to look white; positive lies on the green side.
    explicit WhiteBalance(Kelvin white, double tint = 0);
    LinearRgb operator()(const Tristimulus& t) const;

private:
    Matrix to_rgb_;
};

/// Linear 0..1 to the sRGB display value 0..1 (IEC 61966-2-1).
float srgb_encoded(float linear);
/// Its inverse.
float srgb_decoded(float display);

}  // namespace rushlight
