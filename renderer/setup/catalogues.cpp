#include "setup/catalogues.h"

#include "quantity/colour.h"

#include <cmath>

namespace rushlight {

// Stops as cloth is sold by; what comes straight is a guess from how much of the lamp can still be seen through
// it, and about half of what does not pass comes back: common practice, no source.
const std::vector<ClothKind>& cloth_kinds() {
    static const std::vector<ClothKind> kinds{
        {"eighth white", 0.25, 0.75, 0.50},
        {"quarter white", 0.33, 0.50, 0.50},
        {"opal", 0.50, 0.45, 0.50},
        {"quarter silk", 0.67, 0.40, 0.50},
        {"half white", 0.75, 0.20, 0.55},
        {"thin silk", 1.00, 0.25, 0.55},
        {"quarter grid cloth", 1.00, 0.10, 0.55},
        {"full white", 1.50, 0.00, 0.60},
        {"silk", 1.67, 0.10, 0.60},
        {"light grid cloth", 2.00, 0.00, 0.60},
        {"muslin", 2.00, 0.00, 0.75},
        {"heavy frost", 2.00, 0.00, 0.55},
        {"full grid cloth", 2.50, 0.00, 0.65},
    };
    return kinds;
}

Finish cloth_finish(const ClothKind& kind) {
    const double passed = std::exp2(-kind.stops);
    Finish f;
    f.name = kind.name;
    f.straight = Spectrum{static_cast<float>(passed * kind.straight_part)};
    f.through = Spectrum{static_cast<float>(passed * (1 - kind.straight_part))};
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

// Common practice, no source: makers differ, and one maker's half is not another's.
const std::vector<GelKind>& gel_kinds() {
    static const std::vector<GelKind> kinds{
        {"full orange", 147, 0.67},  {"half orange", 78, 0.40},  {"quarter orange", 42, 0.25},
        {"eighth orange", 20, 0.10}, {"full blue", -134, 2.00},  {"half blue", -80, 1.00},
        {"quarter blue", -35, 0.50}, {"eighth blue", -10, 0.25}, {"nd 0.15", 0, 0.5},
        {"nd 0.3", 0, 1.0},          {"nd 0.6", 0, 2.0},         {"nd 0.9", 0, 3.0},
        {"nd 1.2", 0, 4.0},
    };
    return kinds;
}

// The types as the standard describes them; which everyday word fits which is our choice.
std::optional<Spectrum> gel_before(double& base, double mired_shift, double stops) {
    const double after = 1e6 / base + mired_shift;
    if (after < 1e6 / 25000 || after > 1e6 / 1000) return std::nullopt;
    const double passed = std::exp2(-stops);
    const Spectrum shares =
        mired_shift == 0 ? Spectrum{static_cast<float>(passed)} : gel(Mired{mired_shift}, passed, Kelvin{base});
    base = 1e6 / after;
    return shares;
}

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
        {"even", 5, false},
    };
    return kinds;
}

// Clean panes; handbook range, from memory. Dirt takes more: then give the number.
const std::vector<GlassKind>& glass_kinds() {
    static const std::vector<GlassKind> kinds{{"none", -1}, {"single", 0.90}, {"double", 0.80}, {"triple", 0.70}};
    return kinds;
}

// Body reflectance in the middle of each handbook range, from memory; warmth is our own scale.
const std::vector<HairKind>& hair_kinds() {
    static const std::vector<HairKind> kinds{{"bald", -1, 0},     {"black", 0.03, 0.1}, {"brown", 0.07, 0.7},
                                             {"red", 0.14, 1.0},  {"blond", 0.27, 0.6}, {"grey", 0.35, 0.0},
                                             {"white", 0.50, 0.0}};
    return kinds;
}

}  // namespace rushlight
