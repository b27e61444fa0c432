// Everyday names for cloths, gels, skies, glass and hair, each with the numbers it stands for.
#pragma once

#include "setup/plain/finish.h"
#include "setup/text/trade_words.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace rushlight {

/// A stretched cloth by the loss that a lamp's beam is said to suffer, and how much of what comes through
/// comes straight. It is named by what it does. The rest is sent back or stays in the cloth.
struct ClothKind {
    std::string_view name;
    double stops;                // quoted loss on the axis
    double straight_part;        // of what passes
    double sent_back_part;       // of what does not pass
    double spread;               // degrees between the halves of what is scattered; 120: matt
    std::string_view customary;  // what it is asked for by
};
const std::vector<ClothKind>& cloth_kinds();
/// Their names, and what they are asked for by.
std::vector<std::string> cloth_words();
/// Shares that sum to one with what the cloth keeps: passed = 2^-stops.
Finish cloth_finish(const ClothKind& kind);
/// A curtain or cloth in an opening, just inside the wall.
struct CurtainKind {
    std::string_view name;
    double straight, through, sent_back;  // shares of what falls on it
    double spread;                        // as of a cloth
};
const std::vector<CurtainKind>& curtain_kinds();
Finish curtain_finish(const CurtainKind& kind);
/// A sheer curtain that lets through a share known by a reading; nothing at 1, when there is none.
std::optional<Finish> sheer_curtain(double share);

/// Open mesh that passes 2^-stops straight on; the threads are black.
Finish net_finish(double stops);

/// A colour filter by name: what it shifts, what it costs.
struct GelKind {
    std::string_view name;
    double mired;
    double stops;
    double duv = 0;  // to green; magenta negative
};
const std::vector<GelKind>& gel_kinds();
/// Band shares that a gel passes of light of `base` kelvin, which then becomes the light behind it. Nothing when it
/// would leave 1000 to 25000 K.
std::optional<Spectrum> gel_before(double& base, const GelKind& kind);

/// A CIE general sky (ISO 15469:2004) by an everyday name.
struct SkyKind {
    std::string_view name;
    int cie_type;
    bool sun;
};
const std::vector<SkyKind>& sky_kinds();
/// That name, or what it is by its type.
std::string sky_words(int cie_type, bool sun);

/// Clean glass seen straight on.
struct GlassKind {
    std::string_view name;
    double transmittance;  // negative: no glass
};
const std::vector<GlassKind>& glass_kinds();
/// The internal transmittance that gives a pane of `index` the wanted total at normal incidence, all inner bounces
/// counted; 1 where even a lossless one passes less.
float pane_transmittance_for(float wanted, float index);
/// What a lossless pane passes, 2 n / (n^2 + 1), and the index of the one that passes so much: coated glass, whose thin
/// layers are taken for a lower index.
float lossless_pane_passes(float index);
float index_of_lossless_pane(float passes);

struct HairKind {
    std::string_view name;
    double reflectance;  // negative: bald
    double warmth;       // 0 neutral .. 1 warm
};
const std::vector<HairKind>& hair_kinds();

template <class T>
std::vector<std::string> names_of(const std::vector<T>& kinds) {
    std::vector<std::string> names;
    for (const T& k : kinds) names.emplace_back(k.name);
    return names;
}
/// By its own name, or by a word of the trade that means it.
template <class T>
const T* kind_named(const std::vector<T>& kinds, const std::string& name) {
    const auto named = [&](const std::string& n) -> const T* {
        for (const T& k : kinds)
            if (k.name == n) return &k;
        return nullptr;
    };
    if (const T* kind = named(name)) return kind;
    for (std::size_t i = 0; const auto other = meaning(name, i); ++i)
        if (const T* kind = named(*other)) return kind;
    return nullptr;
}

}  // namespace rushlight
