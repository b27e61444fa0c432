#include "setup/text/trade_words.h"

#include "setup/text/words.h"

#include <array>

namespace rushlight {

namespace {

constexpr TradeWord words[] = {
    {"full cto", "full orange", "gel"},
    {"cto", "full orange", "gel"},
    {"half cto", "half orange", "gel"},
    {"quarter cto", "quarter orange", "gel"},
    {"eighth cto", "eighth orange", "gel"},
    {"full ctb", "full blue", "gel"},
    {"ctb", "full blue", "gel"},
    {"half ctb", "half blue", "gel"},
    {"quarter ctb", "quarter blue", "gel"},
    {"eighth ctb", "eighth blue", "gel"},
    {"plus green", "full plus green", "gel"},
    {"minus green", "full minus green", "gel"},
    {"half plusgreen", "half plus green", "gel"},
    {"half minusgreen", "half minus green", "gel"},
    {"half stop nd", "nd 0.15", "gel"},
    {"one stop nd", "nd 0.3", "gel"},
    {"two stops nd", "nd 0.6", "gel"},
    {"2 stops nd", "nd 0.6", "gel"},
    {"3 stops nd", "nd 0.9", "gel"},
    {"4 stops nd", "nd 1.2", "gel"},
    {"1 stop nd", "nd 0.3", "gel"},
    {"2 stop nd", "nd 0.6", "gel"},
    {"3 stop nd", "nd 0.9", "gel"},
    {"4 stop nd", "nd 1.2", "gel"},
    {"nd3", "nd 0.3", "gel"},
    {"nd6", "nd 0.6", "gel"},
    {"nd9", "nd 0.9", "gel"},
    {"fs", "full", "shot"},
    {"full shot", "full", "shot"},
    {"wide", "full", "shot"},
    {"ws", "full", "shot"},
    {"ls", "full", "shot"},
    {"long shot", "full", "shot"},
    {"mfs", "medium full", "shot"},
    {"mls", "medium full", "shot"},
    {"medium long shot", "medium full", "shot"},
    {"ms", "medium", "shot"},
    {"mid", "medium", "shot"},
    {"mid shot", "medium", "shot"},
    {"medium shot", "medium", "shot"},
    {"mcu", "medium close-up", "shot"},
    {"medium close", "medium close-up", "shot"},
    {"ots", "medium close-up", "shot"},
    {"over shoulder", "medium close-up", "shot"},
    {"over the shoulder", "medium close-up", "shot"},
    {"over-the-shoulder", "medium close-up", "shot"},
    {"cu", "close-up", "shot"},
    {"close", "close-up", "shot"},
    {"close up", "close-up", "shot"},
    {"closeup", "close-up", "shot"},
    {"ecu", "extreme close-up", "shot"},
    {"xcu", "extreme close-up", "shot"},
    {"cloudy", "overcast", "sky"},
    {"grey", "overcast", "sky"},
    {"sunny", "clear", "sky"},
    {"blue sky", "clear", "sky"},
    {"fair", "partly cloudy", "sky"},
    {"hazy sun", "hazy", "sky"},
    {"sunny spells", "broken cloud", "sky"},
    {"sitting", "seated", "pose"},
    {"sat", "seated", "pose"},
    {"stood", "standing", "pose"},
    {"upright", "standing", "pose"},
    {"ponytail", "tied back", "hair cut"},
    {"bun", "tied back", "hair cut"},
    {"buzz cut", "cropped", "hair cut"},
    {"crew cut", "cropped", "hair cut"},
    {"blonde", "blond", "hair"},
    {"gray", "grey", "hair"},
    {"ginger", "red", "hair"},
    {"none", "bald", "hair"},
    {"net curtain", "sheer", "curtain"},
    {"net curtains", "sheer", "curtain"},
    {"nets", "sheer", "curtain"},
    {"voile", "sheer", "curtain"},
    {"blackout", "blackout curtain", "curtain"},
    {"lined", "lined curtain", "curtain"},
    {"white", "neutral", "hue"},
    {"grey", "neutral", "hue"},
    {"gray", "neutral", "hue"},
    {"black", "neutral", "hue"},
    {"muslin", "bleached muslin", "finish"},
    {"poly", "white foam board", "finish"},
    {"polystyrene", "white foam board", "finish"},
    {"bead board", "white foam board", "finish"},
    {"bounce", "white foam board", "finish"},
    {"foam core", "white foam board", "finish"},
    {"solid", "black cloth", "finish"},
    {"neg", "black cloth", "finish"},
    {"negative fill", "black cloth", "finish"},
    {"blackout cloth", "black cloth", "finish"},
    {"velvet", "black velvet", "finish"},
    {"silver", "matt silver board", "finish"},
    {"gold", "gold board", "finish"},
    {"eighth white", "1/4 stop, spread 12", "cloth"},
    {"quarter white", "1/3 stop, spread 30", "cloth"},
    {"opal", "1/2 stop, spread 24", "cloth"},
    {"quarter silk", "2/3 stop, spread 45", "cloth"},
    {"half white", "3/4 stop, spread 60", "cloth"},
    {"thin silk", "1 stop, spread 70", "cloth"},
    {"quarter grid cloth", "1 stop, spread 80", "cloth"},
    {"full white", "1 1/2 stops, spread 100", "cloth"},
    {"silk", "1 2/3 stops, spread 90", "cloth"},
    {"light grid cloth", "2 stops, spread 112", "cloth"},
    {"muslin", "2 stops, spread 118", "cloth"},
    {"heavy frost", "2 stops, spread 112, sheet", "cloth"},
    {"full grid cloth", "2 1/2 stops, spread 118", "cloth"},
    {"eighth diffusion", "1/4 stop, spread 12", "cloth"},
    {"quarter diffusion", "1/3 stop, spread 30", "cloth"},
    {"half diffusion", "3/4 stop, spread 60", "cloth"},
    {"full diffusion", "1 1/2 stops, spread 100", "cloth"},
    {"quarter grid", "1 stop, spread 80", "cloth"},
    {"light grid", "2 stops, spread 112", "cloth"},
    {"half grid cloth", "2 stops, spread 112", "cloth"},
    {"half grid", "2 stops, spread 112", "cloth"},
    {"full grid", "2 1/2 stops, spread 118", "cloth"},
    {"grid cloth", "2 1/2 stops, spread 118", "cloth"},
    {"opal frost", "1/2 stop, spread 24", "cloth"},
    {"frost", "2 stops, spread 112, sheet", "cloth"},
    {"china silk", "1 stop, spread 70", "cloth"},
    {"fresnel", "hard", "lamp shape"},
    {"open face", "hard", "lamp shape"},
    {"spot", "hard", "lamp shape"},
    {"softbox", "box", "lamp shape"},
    {"soft box", "box", "lamp shape"},
    {"china ball", "ball", "lamp shape"},
    {"paper lantern", "ball", "lamp shape"},
    {"lantern", "ball", "lamp shape"},
    {"bulb", "ball", "lamp shape"},
    {"led panel", "panel", "lamp shape"},
    {"bi-colour", "two-channel led", "light"},
    {"bi-color", "two-channel led", "light"},
    {"bicolour", "two-channel led", "light"},
    {"led", "white led", "light"},
    {"halogen", "tungsten", "light"},
    {"filament", "tungsten", "light"},
    {"incident", "flat", "receptor"},
    {"disc", "flat", "receptor"},
    {"ball", "dome", "receptor"},
};

/// Keys that people guess, each the same as one of the file's.
constexpr KeyWord keys_said[] = {
    {"bounce", "board"},
    {"poly", "board"},
    {"reflector", "board"},
    {"neg", "flag"},
    {"negative_fill", "flag"},
    {"black", "flag"},
    {"solid", "flag"},
    {"floppy", "flag"},
    {"cutter", "flag"},
    {"diffusion", "cloth"},
    {"dim", "level"},
    {"dimmer", "level"},
    {"cct", "kelvin"},
    {"wb", "white_balance"},
    {"ei", "iso"},
    {"asa", "iso"},
    {"stop", "t_stop"},
    {"aperture", "t_stop"},
    {"focal_length", "lens"},
    {"highlight_latitude", "headroom"},
    {"shadow_latitude", "footroom"},
    {"load", "other"},
    {"position", "at"},
};

/// Within the names of a kit's items, longer ones first.
constexpr TradeWord in_items[] = {
    {"c-stand", "grip stand", "kit item"},
    {"c stand", "grip stand", "kit item"},
    {"fresnel spot", "lens at spot", "kit item"},
    {"fresnel flood", "lens at flood", "kit item"},
    {"fresnel", "lens head", "kit item"},
    {"lens spot", "lens at spot", "kit item"},
    {"lens flood", "lens at flood", "kit item"},
    {"china ball", "lantern", "kit item"},
    {"softbox", "soft box", "kit item"},
    {"egg crate", "grid", "kit item"},
    {"poly board", "board, white foam", "kit item"},
    {"poly", "board, white foam", "kit item"},
    {"bounce", "board, white foam", "kit item"},
    {"bead board", "board, white foam", "kit item"},
    {"polystyrene", "board, white foam", "kit item"},
    {"negative fill", "black cloth", "kit item"},
    {"neg", "black cloth", "kit item"},
    {"solid", "black solid", "kit item"},
    {"shot bag", "sandbag", "kit item"},
};

/// Names that items had before, when heads went by their watts: still read for one version, and no longer shown.
constexpr TradeWord earlier_items[] = {
    {"55 degree reflector", "wide reflector", "kit item"}, {"60 w head", "6000 lm head", "kit item"},
    {"150 w head", "14000 lm head", "kit item"},           {"300 w head", "31000 lm head", "kit item"},
    {"600 w head", "60000 lm head", "kit item"},           {"1200 w head", "110000 lm head", "kit item"},
};

struct Advice {
    std::string_view key, instead;
};
constexpr Advice advice[] = {
    {"mirror", "a mirror is furniture with finish = \"mirror\""},
    {"window", "a window is an opening of the place: [[place.opening]]"},
    {"door", "a door is an opening of the place: [[place.opening]]"},
    {"wall", "walls come from [place] room; their finishes from [place] surfaces"},
    {"bounce", "a bounce is a [[board]]"},
    {"poly", "a poly is a [[board]] with finish = \"white foam board\""},
    {"reflector", "a reflector is a [[board]]"},
    {"neg", "negative fill is a [[flag]]"},
    {"black", "black is a [[flag]]"},
    {"solid", "a solid is a [[flag]]"},
    {"floppy", "a floppy is a [[flag]]"},
    {"cutter", "a cutter is a [[flag]]"},
    {"diffusion", "diffusion in a frame is a [[cloth]]"},
    {"silk", "a silk is a [[cloth]] with kind = \"silk\""},
    {"frame", "diffusion in a frame is a [[cloth]]"},
    {"scrim", "a net is a [[net]], diffusion is a [[cloth]]"},
    {"light", "a light is a [[lamp]]"},
    {"head", "a head is a [[lamp]]"},
    {"practical", "a practical is a [[lamp]]"},
    {"softbox", "a soft box is a [[lamp]] with shape = \"box\""},
    {"actor", "a person stands on a [[mark]]"},
    {"person", "a person stands on a [[mark]]: person = { ... }"},
    {"character", "a person stands on a [[mark]]"},
    {"table", "a table is furniture: [[place.furniture]]"},
    {"furniture", "furniture belongs to the place: [[place.furniture]]"},
    {"opening", "openings belong to the place: [[place.opening]]"},
    {"curtain", "a curtain hangs in an opening: [[place.opening]] curtain"},
    {"blind", "a blind hangs in an opening: [[place.opening]] blind"},
    {"dim", "dimming is level = \"50%\" or level = \"-1 stop\""},
    {"dimmer", "dimming is level = \"50%\" or level = \"-1 stop\""},
    {"intensity", "a lamp's full light is output, its dimming level"},
    {"power", "a lamp's light is output, its draw watts"},
    {"color", "a lamp's colour is kelvin, a surface's hue"},
    {"colour", "a lamp's colour is kelvin, a surface's hue"},
    {"cct", "colour temperature is kelvin"},
    {"wb", "white balance is white_balance"},
    {"ei", "exposure index is iso"},
    {"asa", "exposure index is iso"},
    {"stop", "the taking stop is t_stop"},
    {"aperture", "the taking stop is t_stop"},
    {"focal_length", "focal length is lens, in mm"},
    {"position", "a place is at = [x, y, z]"},
    {"load", "what else is on a circuit is other"},
    {"sitting", "a pose is pose = \"seated\""},
};

bool letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
}

/// `whole` with the word `from` replaced by `to`, where it stands alone.
std::string replaced(std::string whole, std::string_view from, std::string_view to) {
    for (std::size_t at = 0; (at = whole.find(from, at)) != std::string::npos;) {
        const bool begins = at == 0 || !letter(whole[at - 1]);
        const bool ends = at + from.size() == whole.size() || !letter(whole[at + from.size()]);
        if (begins && ends) {
            whole.replace(at, from.size(), to);
            at += to.size();
        } else {
            at += from.size();
        }
    }
    return whole;
}

std::string fractions_spelt_out(std::string text) {
    for (const auto& [figure, word] :
         {std::pair{"1/2", "half"}, std::pair{"1/4", "quarter"}, std::pair{"1/8", "eighth"}})
        text = replaced(std::move(text), figure, word);
    return text;
}

}  // namespace

std::span<const TradeWord> trade_words() {
    return words;
}

std::optional<std::string> meaning(const std::string& tidied, std::size_t number) {
    const std::string text = fractions_spelt_out(tidied);
    if (number == 0 && text != tidied) return text;
    std::size_t left = number - (text != tidied ? 1 : 0);
    for (const TradeWord& w : words)
        if (w.said == text && left-- == 0) return std::string(w.ours);
    return std::nullopt;
}

std::span<const KeyWord> key_words() {
    return keys_said;
}

std::string_view key_in_our_words(std::string_view said) {
    for (const KeyWord& w : keys_said)
        if (w.said == said) return w.ours;
    return {};
}

std::span<const TradeWord> item_words() {
    return in_items;
}

std::string item_in_our_words(const std::string& tidied) {
    std::string text = tidied;
    for (const TradeWord& w : earlier_items) text = replaced(std::move(text), w.said, w.ours);
    for (const TradeWord& w : in_items) {
        // "black solid" is ours already.
        if (text.find(w.ours) != std::string::npos) continue;
        text = replaced(std::move(text), w.said, w.ours);
    }
    // What is stretched in a frame, by the longest of its names.
    if (text.find("frame") == text.npos) return text;
    const std::string spelt = fractions_spelt_out(text);
    const TradeWord* cloth = nullptr;
    for (const TradeWord& w : words)
        if (w.of == "cloth" && (!cloth || w.said.size() > cloth->said.size()) && replaced(spelt, w.said, "") != spelt)
            cloth = &w;
    return cloth ? replaced(spelt, cloth->said, cloth->ours) : text;
}

std::string_view what_it_is_here(std::string_view key) {
    for (const Advice& a : advice)
        if (a.key == key) return a.instead;
    return {};
}

}  // namespace rushlight
