#include "pictures/draw/false_colour.h"

#include "pictures/draw/perceived.h"

#include <algorithm>
#include <cmath>

namespace rushlight {
namespace {

// Lightness of the darkest and of the lightest band: short of black and white, so that ink of either still stands out.
// Steps are alike, but for the last: nothing above it has a colour to be told apart by.
constexpr double darkest = 5, lightest = 98.5, last_step = 1.55;

// A family runs evenly in hue (degrees in CIELAB) and in chroma from its first band to its last.
struct Family {
    int first, last;
    double hue_from, hue_to, chroma_from, chroma_to;
};
constexpr int horizon = 7;                                          // the first band over grey
constexpr Family earth{0, horizon - 1, 303, 437, 45, 49};           // night, wine, chestnut, rust, ochre
constexpr Family sky{horizon, colour_bands - 1, 187, 311, 52, 38};  // deep teal, azure, pale lilac

double lightness_at(double position) {
    constexpr double last = colour_bands - 1;
    const double steps = position <= last - 1 ? position : last - 1 + (position - last + 1) * last_step;
    return darkest + (lightest - darkest) * steps / (last - 1 + last_step);
}

// `position` counts bands: 0 in the middle of the darkest, 15 in the middle of the lightest.
Colour colour_at(double position, const Family& family) {
    const double along = (position - family.first) / (family.last - family.first);
    const double lightness = lightness_at(position);
    const double hue = std::lerp(family.hue_from, family.hue_to, along);
    const double wished = std::lerp(family.chroma_from, family.chroma_to, along);
    // A little inside what the display can show, so that no channel is cut and lightness stays true.
    return display_of(lab({lightness, std::min(wished, 0.97 * largest_chroma(lightness, hue)), hue}));
}

// Evenly from the middle of one band to the middle of the next; at grey, half-way between two bands, the family
// changes.
double position_of(double stops) {
    if (!(stops > band_middle(0))) return 0;
    for (int b = 1; b < colour_bands; ++b)
        if (stops < band_middle(b)) return b - 1 + (stops - band_middle(b - 1)) / (band_middle(b) - band_middle(b - 1));
    return colour_bands - 1;
}

}  // namespace

int colour_band(double stops) {
    if (!(stops >= band_edges.front())) return 0;
    return static_cast<int>(std::upper_bound(band_edges.begin(), band_edges.end(), stops) - band_edges.begin());
}

double band_middle(int band) {
    const auto b = static_cast<std::size_t>(band);
    if (band == 0) return band_edges.front() - 0.5;
    if (band == colour_bands - 1) return band_edges.back() + 0.5;
    return (band_edges[b - 1] + band_edges[b]) / 2;
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
    // Finding the largest chroma is slow, so a fine table of the scale is made once: 1/32 of a band a step.
    constexpr int steps = 32;
    static const auto table = [] {
        std::array<Colour, steps*(colour_bands - 1) + 1> all{};
        for (std::size_t i = 0; i < all.size(); ++i) {
            const double position = static_cast<double>(i) / steps;
            all[i] = colour_at(position, position < horizon - 0.5 ? earth : sky);
        }
        return all;
    }();
    return table[static_cast<std::size_t>(position_of(stops) * steps)];
}

}  // namespace rushlight
