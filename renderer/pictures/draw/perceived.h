// Display colours as an eye sees them: CIELAB (ISO/CIE 11664-4) with the display's D65 white.
#pragma once

#include "pictures/draw/image.h"

namespace rushlight {

struct Lab {
    double l = 0, a = 0, b = 0;
};

/// Lightness 0..100, chroma, and hue in degrees.
struct LightnessChromaHue {
    double lightness = 0, chroma = 0, hue = 0;
};

Lab lab_of_linear(const Colour& linear);
Lab lab_of_display(const Colour& display);
Lab lab(const LightnessChromaHue& c);
/// Linear BT.709 light; outside 0..1 when a display cannot show it.
std::array<double, 3> linear_of(const Lab& c);
/// Display values, held to 0..1.
Colour display_of(const Lab& c);
/// The largest chroma that a display can show at this lightness and hue.
double largest_chroma(double lightness, double hue);
/// CIE 1976 colour difference, Euclidean in CIELAB.
double difference(const Lab& p, const Lab& q);

}  // namespace rushlight
