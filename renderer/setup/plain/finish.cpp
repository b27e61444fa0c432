// The catalogues of named finishes and hues. Every number is an order of magnitude to start from: a spot reading
// against a grey card on the day is better than any of them.
#include "setup/plain/finish.h"

#include "quantity/spectrum.h"
#include "setup/text/trade_words.h"
#include "setup/text/words.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace rushlight {

namespace {

constexpr std::string_view handbook = "handbook range, from memory";
constexpr std::string_view practice = "common practice, no source";

struct Coat {
    float gloss = 0.0F;
    float roughness = 0.3F;
};

NamedFinish matt(std::string_view name, double reflectance, std::string_view hue, std::string_view what,
                 std::string_view source, Coat coat = {}) {
    NamedFinish n{Finish{}, what, source};
    n.finish.name = name;
    n.finish.reflectance = reflectance_of(hue, reflectance).value();
    n.finish.gloss = coat.gloss;
    n.finish.roughness = coat.roughness;
    return n;
}

NamedFinish metal(std::string_view name, double mirrored, double scattered, std::string_view hue, float roughness,
                  std::string_view what, std::string_view source) {
    NamedFinish n = matt(name, scattered, hue, what, source);
    n.finish.metal = reflectance_of(hue, mirrored).value();
    n.finish.roughness = roughness;
    return n;
}

/// What one would see close by, of those that are not even.
PatternKind pattern_of(std::string_view name) {
    constexpr std::array<std::pair<std::string_view, PatternKind>, 19> patterned{{
        {"plaster", PatternKind::plaster},
        {"limewash", PatternKind::plaster},
        {"limewashed brick", PatternKind::brick},
        {"red brick", PatternKind::brick},
        {"pale stone", PatternKind::stone},
        {"concrete", PatternKind::plaster},
        {"maple", PatternKind::wood},
        {"light oak", PatternKind::wood},
        {"dark oak", PatternKind::wood},
        {"dark oiled wood", PatternKind::boards},
        {"varnished wood", PatternKind::wood},
        {"floorboards", PatternKind::boards},
        {"light carpet", PatternKind::carpet},
        {"dark carpet", PatternKind::carpet},
        {"dark tiles", PatternKind::tiles},
        {"white tiles", PatternKind::tiles},
        {"black and white tiles", PatternKind::chequer},
        {"book spines", PatternKind::books},
        {"foliage", PatternKind::foliage},
    }};
    for (const auto& [named, kind] : patterned)
        if (named == name) return kind;
    return PatternKind::none;
}

std::vector<NamedFinish> make_catalogue() {
    std::vector<NamedFinish> all{
        matt("white matt paint", 0.80, "neutral", "clean emulsion on a wall or ceiling", handbook),
        matt("white gloss paint", 0.76, "neutral", "woodwork, doors", handbook, {0.04F, 0.10F}),
        matt("plaster", 0.75, "cream", "bare or painted off-white", handbook),
        matt("cream paint", 0.65, "cream", "a pale warm wall", handbook),
        matt("light grey paint", 0.50, "neutral", "a mid-light wall", handbook),
        matt("mid grey paint", 0.20, "neutral", "near a grey card", handbook),
        matt("pale green paint", 0.40, "green", "a hospital or school wall", handbook),
        matt("pale blue paint", 0.40, "sky blue", "a cool bedroom wall", handbook),
        matt("dark green paint", 0.12, "green", "panelling", practice, {0.04F, 0.35F}),
        matt("dark red paint", 0.10, "red", "a dining-room wall", handbook),
        matt("black paint", 0.08, "neutral", "what is sold as black is not", handbook),
        matt("limewash", 0.60, "cream", "fresh limewash on brick or stone", practice),
        matt("limewashed brick", 0.45, "cream", "worn limewash, joints and dirt together", practice),
        matt("red brick", 0.20, "brick", "bare brick", handbook),
        matt("pale stone", 0.45, "cream", "a light facade", handbook),
        matt("concrete", 0.30, "neutral", "bare concrete", handbook),
        matt("maple", 0.55, "oak", "maple, birch, pale plywood", handbook, {0.04F, 0.35F}),
        matt("light oak", 0.38, "oak", "pale boards", handbook, {0.04F, 0.35F}),
        matt("dark oak", 0.18, "brown", "dark oak or walnut", handbook, {0.04F, 0.35F}),
        matt("dark oiled wood", 0.12, "brown", "a dark oiled floor", practice, {0.03F, 0.40F}),
        matt("floorboards", 0.22, "oak", "worn boards", practice, {0.03F, 0.40F}),
        matt("varnished wood", 0.20, "orange", "instruments, polished furniture", practice, {0.04F, 0.05F}),
        matt("light carpet", 0.30, "cream", "a pale rug", practice),
        matt("dark carpet", 0.08, "brown", "a dark rug", practice),
        matt("dark tiles", 0.10, "neutral", "glazed floor tiles", practice, {0.04F, 0.08F}),
        matt("black and white tiles", 0.38, "neutral", "a chequered floor", practice, {0.04F, 0.10F}),
        matt("white tiles", 0.72, "neutral", "glazed wall tiles", practice, {0.04F, 0.05F}),
        matt("white cotton", 0.78, "neutral", "a shirt, a sheet", handbook),
        matt("dark wool", 0.05, "neutral", "a coat, a blanket", handbook),
        matt("book spines", 0.15, "brown", "a wall of books", practice),
        matt("black cloth", 0.03, "neutral", "felt-like black cloth, clean", handbook),
        matt("worn black cloth", 0.07, "neutral", "the same after a season", handbook),
        matt("black velvet", 0.006, "neutral", "the darkest that a van carries", handbook),
        matt("black foam board", 0.05, "neutral", "a cut piece behind a lamp", handbook),
        matt("white foam board", 0.85, "neutral", "foam or polystyrene board", handbook),
        matt("bleached muslin", 0.70, "neutral", "a stretched sheet used as a bounce", handbook),
        matt("unbleached muslin", 0.58, "straw", "the warm one", handbook),
        matt("foliage", 0.10, "green", "hedges and trees outside", handbook),
        metal("matt silver board", 0.62, 0.15, "neutral", 0.27F, "a forward lobe and little beside it", practice),
        metal("hard silver board", 0.82, 0.03, "neutral", 0.10F, "nearly a mirror", practice),
        metal("gold board", 0.55, 0.12, "gold", 0.25F, "as matt silver, and warmer", practice),
        metal("steel", 0.55, 0.03, "neutral", 0.25F, "brushed steel", handbook),
        metal("mirror", 0.88, 0.0, "neutral", 0.0F, "silvered glass", handbook),
    };
    NamedFinish glass{Finish{}, "one clear sheet: cabinet doors, picture glass", handbook};
    glass.finish.name = "glass";
    glass.finish.reflectance = Spectrum{0.0F};
    glass.finish.pane = true;
    all.push_back(glass);
    for (NamedFinish& n : all) n.finish.pattern = pattern_of(n.finish.name);
    return all;
}

}  // namespace

const std::vector<NamedFinish>& finish_catalogue() {
    static const std::vector<NamedFinish> catalogue = make_catalogue();
    return catalogue;
}

std::optional<Finish> named_finish(std::string_view name) {
    const auto named = [](const std::string& wanted) -> std::optional<Finish> {
        for (const NamedFinish& n : finish_catalogue())
            if (n.finish.name == wanted) return n.finish;
        return std::nullopt;
    };
    const std::string wanted = tidy(name);
    if (auto finish = named(wanted)) return finish;
    for (std::size_t i = 0; const auto other = meaning(wanted, i); ++i)
        if (auto finish = named(*other)) return finish;
    return std::nullopt;
}

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

/// Smooth shapes over the bands, invented to look like what they are called, but for skin: common practice, no source.
/// Three edge positions and widths for BT.709 were found by a least-squares search on the CIE 1931 observer under D65.
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
