#include "setup/plain/catalogues.h"

#include "quantity/lamp_spectra.h"

#include "quantity/colour.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

// Stops as cloth is sold by; what comes straight is a guess from how much of the lamp can still be seen through
// it, and about half of what does not pass comes back: common practice, no source. Spread is a guess from memory.
const std::vector<ClothKind>& cloth_kinds() {
    static const std::vector<ClothKind> kinds{
        {"1/4 stop, spread 12", 0.25, 0.75, 0.50, 12, "eighth white"},
        {"1/3 stop, spread 30", 0.33, 0.50, 0.50, 30, "quarter white"},
        {"1/2 stop, spread 24", 0.50, 0.45, 0.50, 24, "opal"},
        {"2/3 stop, spread 45", 0.67, 0.40, 0.50, 45, "quarter silk"},
        {"3/4 stop, spread 60", 0.75, 0.20, 0.55, 60, "half white"},
        {"1 stop, spread 70", 1.00, 0.25, 0.55, 70, "thin silk"},
        {"1 stop, spread 80", 1.00, 0.10, 0.55, 80, "quarter grid cloth"},
        {"1 1/2 stops, spread 100", 1.50, 0.00, 0.60, 100, "full white"},
        {"1 2/3 stops, spread 90", 1.67, 0.10, 0.60, 90, "silk"},
        {"2 stops, spread 112", 2.00, 0.00, 0.60, 112, "light grid cloth"},
        {"2 stops, spread 118", 2.00, 0.00, 0.75, 118, "muslin"},
        {"2 stops, spread 112, sheet", 2.00, 0.00, 0.55, 112, "heavy frost"},
        {"2 1/2 stops, spread 118", 2.50, 0.00, 0.65, 118, "full grid cloth"},
    };
    return kinds;
}

std::vector<std::string> cloth_words() {
    std::vector<std::string> words = names_of(cloth_kinds());
    for (const ClothKind& k : cloth_kinds()) words.emplace_back(k.customary);
    return words;
}

// Shares from common practice, no source: sheers pass .3 to .7, a lined curtain under .05.
const std::vector<CurtainKind>& curtain_kinds() {
    static const std::vector<CurtainKind> kinds{
        {"sheer", 0.25, 0.40, 0.25, 40},
        {"thick sheer", 0.06, 0.36, 0.45, 80},
        {"unlined cotton", 0.00, 0.14, 0.60, 118},
        {"lined curtain", 0.00, 0.02, 0.50, 120},
        {"blackout curtain", 0.00, 0.00, 0.50, 120},
        {"roller blind", 0.00, 0.15, 0.65, 118},
        {"paper blind", 0.00, 0.38, 0.50, 110},
    };
    return kinds;
}

Finish curtain_finish(const CurtainKind& kind) {
    Finish f;
    f.name = kind.name;
    f.straight = Spectrum{static_cast<float>(kind.straight)};
    f.through = Spectrum{static_cast<float>(kind.through)};
    f.spread = static_cast<float>(kind.spread);
    f.reflectance = Spectrum{static_cast<float>(kind.sent_back)};
    return f;
}

std::optional<Finish> sheer_curtain(double share) {
    if (share >= 1.0) return std::nullopt;
    // Common practice, no source: a sheer shows a fifth of what it passes unbent, absorbs little.
    return curtain_finish({"sheer curtain", 0.2 * share, 0.8 * share, 0.85 * (1.0 - share), 60});
}

Finish cloth_finish(const ClothKind& kind) {
    const double passed = std::exp2(-kind.stops);
    Finish f;
    f.name = std::string(kind.name) + " (" + std::string(kind.customary) + ")";
    f.straight = Spectrum{static_cast<float>(passed * kind.straight_part)};
    f.through = Spectrum{static_cast<float>(passed * (1 - kind.straight_part))};
    f.spread = static_cast<float>(kind.spread);
    f.reflectance = Spectrum{static_cast<float>((1 - passed) * kind.sent_back_part)};
    return f;
}

Finish net_finish(double stops) {
    constexpr float thread = 0.03F;  // black thread; handbook range for black cloth, from memory
    const auto open = static_cast<float>(std::exp2(-stops));
    Finish f;
    f.name = "net";
    f.straight = Spectrum{open};
    f.reflectance = Spectrum{(1 - open) * thread};
    return f;
}

// Common practice, no source: makers differ, and one maker's half is not another's. How far green and magenta gels
// move a white off the locus (duv) is from memory of a full one as thirty hundredths of density in one dye.
const std::vector<GelKind>& gel_kinds() {
    static const std::vector<GelKind> kinds{
        {"full orange", 147, 0.67},
        {"half orange", 78, 0.40},
        {"quarter orange", 42, 0.25},
        {"eighth orange", 20, 0.10},
        {"full blue", -134, 2.00},
        {"half blue", -80, 1.00},
        {"quarter blue", -35, 0.50},
        {"eighth blue", -10, 0.25},
        {"nd 0.15", 0, 0.5},
        {"nd 0.3", 0, 1.0},
        {"nd 0.6", 0, 2.0},
        {"nd 0.9", 0, 3.0},
        {"nd 1.2", 0, 4.0},
        {"full plus green", 0, 0.40, 0.020},
        {"half plus green", 0, 0.25, 0.010},
        {"quarter plus green", 0, 0.10, 0.005},
        {"full minus green", 0, 0.75, -0.020},
        {"half minus green", 0, 0.40, -0.010},
        {"quarter minus green", 0, 0.20, -0.005},
    };
    return kinds;
}

std::optional<Spectrum> gel_before(double& base, const GelKind& kind) {
    const double passed = std::exp2(-kind.stops);
    if (kind.duv != 0) return green_gel(kind.duv, passed, white_light(Kelvin{base}));
    const double after = 1e6 / base + kind.mired;
    if (after < 1e6 / 25000 || after > 1e6 / 1000) return std::nullopt;
    const Spectrum shares =
        kind.mired == 0 ? Spectrum{static_cast<float>(passed)} : gel(Mired{kind.mired}, passed, Kelvin{base});
    base = 1e6 / after;
    return shares;
}

// The types as the standard describes them; which everyday word fits which is our choice.
const std::vector<SkyKind>& sky_kinds() {
    static const std::vector<SkyKind> kinds{
        {"clear", 12, true},
        {"hazy", 13, true},
        {"very hazy", 14, true},
        {"milky", 15, true},
        {"thin cloud", 11, true},
        {"partly cloudy", 8, true},
        {"broken cloud", 7, true},
        {"sun behind cloud", 9, false},
        {"bright overcast", 3, false},
        {"overcast", 1, false},
        {"traditional overcast", 16, false},  // the older law, which handbooks of daylight use
        {"even", 5, false},
    };
    return kinds;
}

std::string sky_words(int cie_type, bool sun) {
    for (const SkyKind& k : sky_kinds())
        if (k.cie_type == cie_type && k.sun == sun) return std::string(k.name);
    return std::string(sun ? "sun out, " : "") + "sky of CIE type " + std::to_string(cie_type);
}

// Clean panes; handbook range, from memory. Dirt takes more: then give the number.
const std::vector<GlassKind>& glass_kinds() {
    static const std::vector<GlassKind> kinds{{"none", -1}, {"single", 0.90}, {"double", 0.80}, {"triple", 0.70}};
    return kinds;
}

float pane_transmittance_for(float wanted, float index) {
    // (1-R)^2 t / (1 - R^2 t^2) = wanted, solved for t in the form that does not cancel for dark glass.
    const double r0 = (index - 1.0) / (index + 1.0);
    const double r = r0 * r0;
    const double b = (1 - r) * (1 - r);
    const double t = 2 * wanted / (b + std::sqrt(b * b + 4 * wanted * wanted * r * r));
    return static_cast<float>(std::clamp(t, 0.0, 1.0));
}

float lossless_pane_passes(float index) {
    return 2.0F * index / (index * index + 1.0F);
}

float index_of_lossless_pane(float passes) {
    return (1.0F + std::sqrt(std::max(0.0F, 1.0F - passes * passes))) / passes;
}

// Body reflectance in the middle of each handbook range, from memory; warmth is our own scale.
const std::vector<HairKind>& hair_kinds() {
    static const std::vector<HairKind> kinds{{"bald", -1, 0},     {"black", 0.03, 0.1}, {"brown", 0.07, 0.7},
                                             {"red", 0.14, 1.0},  {"blond", 0.27, 0.6}, {"grey", 0.35, 0.0},
                                             {"white", 0.50, 0.0}};
    return kinds;
}

}  // namespace rushlight
