#include "pictures/draw/false_colour.h"

#include "pictures/draw/perceived.h"

#include <algorithm>
#include <cmath>

namespace rushlight {
namespace {

// Lightness of the darkest and of the lightest band: short of black and white, so that ink of either still
// stands out, and far enough apart for seven units a band.
constexpr double darkest = 7, lightest = 97;

// A family runs evenly in hue (degrees in CIELAB) and in chroma from its first band to its last.
struct Family {
    int first, last;
    double hue_from, hue_to, chroma_from, chroma_to;
};
constexpr int horizon = -least_stop + 1;                            // the first band over grey
constexpr Family earth{0, horizon - 1, 358, 428, 24, 54};           // wine, chestnut, rust, ochre
constexpr Family sky{horizon, colour_bands - 1, 190, 305, 50, 10};  // deep teal, azure, pale lilac

// `position` counts bands: 0 in the middle of the darkest, 13 in the middle of the lightest.
Colour colour_at(double position, const Family& family) {
    const double along = (position - family.first) / (family.last - family.first);
    const double lightness = darkest + (lightest - darkest) * position / (colour_bands - 1);
    const double hue = std::lerp(family.hue_from, family.hue_to, along);
    const double wished = std::lerp(family.chroma_from, family.chroma_to, along);
    // A little inside what the display can show, so that no channel is cut and lightness stays true.
    return display_of(lab({lightness, std::min(wished, 0.97 * largest_chroma(lightness, hue)), hue}));
}

}  // namespace

int colour_band(double stops) {
    if (!(stops >= least_stop)) return 0;
    if (stops >= most_stop) return colour_bands - 1;
    return static_cast<int>(std::floor(stops)) - least_stop + 1;
}

Colour band_colour(int band) {
    static const auto colours = [] {
        std::array<Colour, colour_bands> all{};
        for (int b = 0; b < colour_bands; ++b)
            all[static_cast<std::size_t>(b)] = colour_at(b, b < horizon ? earth : sky);
        return all;
    }();
    return colours[static_cast<std::size_t>(std::clamp(band, 0, colour_bands - 1))];
}

Colour smooth_colour(double stops) {
    // Finding the largest chroma is slow, so a fine table of the scale is made once: 1/32 stop a step.
    constexpr int steps = 32;
    static const auto table = [] {
        std::array<Colour, steps*(colour_bands - 1) + 1> all{};
        for (std::size_t i = 0; i < all.size(); ++i) {
            const double position = static_cast<double>(i) / steps;
            all[i] = colour_at(position, position < horizon - 0.5 ? earth : sky);
        }
        return all;
    }();
    if (!(stops > least_stop - 0.5)) return table.front();
    const double position = std::min(stops - least_stop + 0.5, colour_bands - 1.0) * steps;
    return table[static_cast<std::size_t>(position)];
}

}  // namespace rushlight
