// The catalogue of named finishes. Every number is an order of magnitude to start from: a spot reading against
// a grey card on the day is better than any of them.
#include "setup/plain/finish.h"

#include "setup/text/trade_words.h"
#include "setup/text/words.h"

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
        matt("varnished wood", 0.20, "orange", "instruments, polished furniture", practice, {0.04F, 0.05F}),
        matt("light carpet", 0.30, "cream", "a pale rug", practice),
        matt("dark carpet", 0.08, "brown", "a dark rug", practice),
        matt("dark tiles", 0.10, "neutral", "glazed floor tiles", practice, {0.04F, 0.08F}),
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

}  // namespace rushlight
