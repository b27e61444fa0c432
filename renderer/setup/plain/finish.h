// How a surface meets light: one plain struct for walls, boards, cloths, nets and panes. The shares of
// what arrives never sum to more than one.
#pragma once

#include "quantity/spectrum.h"

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace rushlight {

/// What breaks up an even surface: lighter and darker by place, with the finish's reflectance as its mean.
enum class PatternKind { none, brick, stone, boards, tiles, chequer, books, plaster, wood, carpet, foliage };
inline constexpr std::array<std::string_view, 11> pattern_words{
    "none", "brick", "stone", "boards", "tiles", "chequer", "books", "plaster", "wood", "carpet", "foliage"};

struct Finish {
    std::string name;
    Spectrum reflectance{0.5F};  // matt share sent back, per band
    Spectrum through{0.0F};      // matt share sent on to the far side (cloth), per band
    float spread = 120.0F;       // degrees between the halves of what is scattered through; 120: matt (Lambert)
    Spectrum straight{0.0F};     // share that passes unbent (nets, thin cloth), per band
    float gloss = 0.0F;          // mirror-like share at normal incidence of a clear coat (varnish: 0.04)
    float roughness = 0.3F;      // of the coat or the metal: GGX alpha, 0 (a sharp mirror) .. 1
    Spectrum metal{0.0F};        // mirror-like share of bare metal (silver board, mirror), per band
    bool pane = false;           // clear thin glass: Fresnel at both faces, index below; ignores the shares
    float pane_index = 1.52F;
    float pane_transmittance = 0.95F;  // internal, at normal incidence
    PatternKind pattern = PatternKind::none;

    bool see_through() const { return pane || !straight.dark(); }
};

/// A smooth band shape, scaled so that its luminous share under equal-energy light is `reflectance`.
/// `hue` is one of hue_names(); the result never leaves 0..1, so strong hues have a highest reflectance.
/// Nothing for an unknown hue.
std::optional<Spectrum> reflectance_of(std::string_view hue, double reflectance);
const std::vector<std::string>& hue_names();

/// One entry of the catalogue of named finishes, for help pages and hints.
struct NamedFinish {
    Finish finish;
    std::string_view what;    // a few words for people
    std::string_view source;  // where the number comes from
};
const std::vector<NamedFinish>& finish_catalogue();
/// The named finish, or nothing.
std::optional<Finish> named_finish(std::string_view name);

/// Linear BT.709 reflectance (as an OBJ material gives it) as smooth bands; each in 0..1.
Spectrum reflectance_from_rgb(float r, float g, float b);

}  // namespace rushlight
