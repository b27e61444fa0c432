// From scene light to what a display shows. One curve, stated here, so that a frame can be judged by it.
//
// With s = stops over grey, H = headroom, F = footroom, g = display value of grey, the display value is
//
//     v(s) = g + (1 - g) * (1 - (1 - s / H)^p)    for 0 <= s <= H,    p = m H / (1 - g)
//     v(s) = g * (1 + s / F)^q                    for -F <= s <= 0,   q = m F / g
//
// 0 under -F and 1 over H. Each side is one power of the way that is left to its end, so it leaves grey with
// the contrast m and rolls off flat into white or black. m is 0.15 display values a stop, about what plain
// sRGB encoding has at grey (0.149: its formula differentiated), or more when the range is so short that a
// power under 1.25 would meet its end with a corner. g = srgb_encoded(0.18) = 118 / 255: an 18 % card is
// shown as itself. The curve is our own; only the encoding is a standard (IEC 61966-2-1).
#pragma once

#include "quantity/colour.h"
#include "setup/plain/rig.h"

namespace rushlight {

class DisplayCurve {
public:
    /// Headroom and footroom in stops, at least a tenth of one.
    DisplayCurve(double headroom, double footroom);

    /// Display value 0..1 of a luminance `stops` over grey.
    double value(double stops) const;
    /// Linear display light 0..1 of a scene luminance of which 0.18 is grey.
    double light(double scene) const;

    // As the formulas above name them: H, F, g, p and q.
    double headroom() const { return headroom_; }
    double footroom() const { return footroom_; }
    double grey() const { return grey_; }
    double upper_power() const { return upper_power_; }
    double lower_power() const { return lower_power_; }

private:
    double headroom_, footroom_, grey_, upper_power_, lower_power_;
};

/// Scene light, grey at luminance 0.18, to linear display light 0..1. The curve sets the luminance; the colour
/// keeps its hue, and of its strength as much as a display can show at that luminance, so that highlights
/// fade evenly to white instead of changing hue.
LinearRgb displayed(const LinearRgb& scene, const DisplayCurve& curve);

}  // namespace rushlight
