// Hues as smooth shapes over the bands. The shapes are invented to look like what they are called, but for skin:
// common practice, no source. Three edge positions and widths for BT.709 were found by a least-squares search on
// the CIE 1931 observer under D65.
#include "quantity/spectrum.h"
#include "setup/plain/finish.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace rushlight {

namespace {

/// A step up at `middle` nm, `width` nm soft (logistic).
double step_up(double nm, double middle, double width) {
    return 1.0 / (1.0 + std::exp((middle - nm) / width));
}
/// A hump at `middle` nm with standard deviation `width`.
double hump(double nm, double middle, double width) {
    const double z = (nm - middle) / width;
    return std::exp(-0.5 * z * z);
}

/// Human skin, from memory of published measurements: pigment takes blue most and less and less towards red, and
/// blood leaves two shallow dips, near 542 and 576 nm, before the steep rise to red. A middle shape for all: deep
/// skin has shallower dips and rises later, fair skin the other way.
double skin(double nm) {
    return 0.30 + 0.46 * step_up(nm, 535, 70) + 0.24 * step_up(nm, 593, 9) -
           0.05 * (hump(nm, 542, 12) + hump(nm, 576, 10));
}

struct Hue {
    const char* name;
    double (*shape)(double nm);
};

constexpr std::array<Hue, 18> hues{{
    {"neutral", [](double) { return 1.0; }},
    {"cream", [](double nm) { return 0.84 + 0.16 * step_up(nm, 490, 28); }},
    {"straw", [](double nm) { return 0.74 + 0.26 * step_up(nm, 500, 30); }},
    {"yellow", [](double nm) { return 0.22 + 0.78 * step_up(nm, 508, 15); }},
    {"orange", [](double nm) { return 0.20 + 0.80 * step_up(nm, 568, 20); }},
    {"red", [](double nm) { return 0.14 + 0.86 * step_up(nm, 602, 14); }},
    {"brick", [](double nm) { return 0.42 + 0.58 * step_up(nm, 585, 22); }},
    {"pink", [](double nm) { return 0.68 + 0.32 * step_up(nm, 590, 20) + 0.10 * hump(nm, 440, 35); }},
    {"brown", [](double nm) { return 0.46 + 0.54 * step_up(nm, 588, 42); }},
    {"oak", [](double nm) { return 0.55 + 0.45 * step_up(nm, 560, 48); }},
    {"gold", [](double nm) { return 0.46 + 0.54 * step_up(nm, 510, 22); }},
    {"olive", [](double nm) { return 0.42 + 0.42 * step_up(nm, 500, 20) + 0.16 * hump(nm, 560, 45); }},
    {"green", [](double nm) { return 0.34 + 0.66 * hump(nm, 530, 45); }},
    {"sky blue", [](double nm) { return 0.58 + 0.42 * (1.0 - step_up(nm, 525, 30)); }},
    {"blue", [](double nm) { return 0.26 + 0.74 * (1.0 - step_up(nm, 498, 22)); }},
    {"purple", [](double nm) { return 0.30 + 0.70 * (1.0 - step_up(nm, 465, 24)) + 0.40 * step_up(nm, 620, 22); }},
    {"skin", skin},
    {"rose", [](double nm) { return 0.46 + 0.54 * step_up(nm, 600, 18) + 0.24 * hump(nm, 445, 38); }},
}};

}  // namespace

const std::vector<std::string>& hue_names() {
    static const std::vector<std::string> names = [] {
        std::vector<std::string> n;
        for (const Hue& h : hues) n.emplace_back(h.name);
        return n;
    }();
    return names;
}

std::optional<Spectrum> reflectance_of(std::string_view hue, double reflectance) {
    const auto* h = std::find_if(hues.begin(), hues.end(), [&](const Hue& x) { return hue == x.name; });
    if (h == hues.end()) return std::nullopt;
    Spectrum shape;
    for (int b = 0; b < bands; ++b) shape[b] = static_cast<float>(h->shape(band_centre(b)));
    const double luminous = luminous_share(shape, equal_energy());
    // The whole shape is scaled, so that the hue keeps its purity, until its highest band sends all light back.
    const double scale = std::min(std::clamp(reflectance, 0.0, 1.0) / luminous, 1.0 / double(shape.largest()));
    Spectrum r = shape * static_cast<float>(scale);
    for (float& band : r.band) band = std::min(band, 1.0F);
    return r;
}

Spectrum reflectance_from_rgb(float r, float g, float b) {
    const auto share = [](float v) { return std::isfinite(v) ? std::clamp(double(v), 0.0, 1.0) : 0.0; };
    // Three shares that sum to one in every band: a grey stays flat, and no colour leaves 0..1.
    constexpr double violet_red = 0.021;  // what a blue primary lacks at the short end
    Spectrum out;
    for (int band = 0; band < bands; ++band) {
        const double nm = band_centre(band);
        const double not_blue = step_up(nm, 487.8, 5.67), red = step_up(nm, 590.3, 7.69);
        const double blue = (1.0 - not_blue) * (1.0 - violet_red);
        const double red_share = red + (1.0 - not_blue) * violet_red;
        const double green = 1.0 - blue - red_share;
        out[band] = static_cast<float>(std::clamp(share(r) * red_share + share(g) * green + share(b) * blue, 0.0, 1.0));
    }
    return out;
}

}  // namespace rushlight
