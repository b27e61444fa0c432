// What the pages of docs/kit/ show and say.
#pragma once

#include <string>
#include <vector>

namespace rushlight::kit_pages {

struct Variant {
    std::string name, words;     // of the set-up file
    std::string asked_for = {};  // as people ask for it, where that is another name
};

struct Page {
    std::string file, title;
    std::string before;   // what the family is
    std::string picture;  // what is seen
    std::string after;    // what to take from it
    std::string base;     // of the set-up file
    std::vector<Variant> variants;
    std::vector<std::string> meters;
    std::string expose_for = "A front";
    bool exposed_each = false;
    double opened = 1;  // stops over what a flat meter asks for: these faces are lit from the side
};

/// A head in front of a mid-grey wall in a dim room; invented.
inline const char* const studio = R"(
[place]
room = { width = 5, depth = 5, height = 3 }
surfaces = { walls = 0.3, floor = 0.15, ceiling = 0.5 }
[[mark]]
name = "A"
at = [2.5, 3.2]
facing = 277
person = { height = 1.7, skin = 0.25, hair = "brown", wardrobe = 0.12 }
[[camera]]
name = "lens"
at = [2.5, 1.0, 1.55]
look_at = [2.5, 3.2, 1.52]
lens = 52
sensor = [18.7, 14]
)";

inline std::string lamp(const std::string& like, const std::string& at, const std::string& more = "") {
    return "[[lamp]]\nname = \"key\"\nlike = \"" + like + "\"\nat = " + at + "\naim = \"A\"\n" + more;
}
inline std::string panel(const std::string& kind, const std::string& name, const std::string& at,
                         const std::string& words) {
    return "[[" + kind + "]]\nname = \"" + name + "\"\nat = " + at + "\nfacing = \"A\"\n" + words;
}

inline std::vector<Page> pages() {
    const std::string dark = "[day]\ndark = true\n";
    const std::string wall_meter = "[[meter]]\nname = \"wall behind\"\nat = [3.2, 4.97, 1.6]\nfacing = [3.2, 3, 1.6]\n";
    const std::string side = "[1.0, 2.3, 2.0]";
    std::vector<Page> all;

    Page lamps{"lamps", "Lamps", "", "", "", dark + wall_meter, {}, {"A front", "wall behind"}};
    lamps.exposed_each = true;
    lamps.before =
        "Shapes: `hard` (a small disc whose light falls smoothly from the aim, half of it at the `beam`, a tenth at "
        "the\n"
        "`field` angle), `box` and `panel` (an even rectangle, with a fabric `grid` if it wears one), `ball`, `tube`, "
        "`ring`,\n"
        "and a bulb in a `shade`, traced as a real drum of cloth.\n";
    lamps.picture = "Eight lamps of the catalogue, 1.8 m from the face, each exposed for the face.";
    lamps.after =
        "Subtract the face's stops from the wall's: that is how well a lamp stays off the wall. `output` takes "
        "lumens,\n"
        "candela on the aim, or a reading such as `\"5200 lx at 3 m\"`; the lamp's size is allowed for.\n\n"
        "`light` is the kind of source. All match the `kelvin` and `tint` you ask for; they differ in what they do to "
        "skin "
        "and cloth.\n"
        "The LED and fluorescent spectra are invented, after published ones (from memory). A test holds their general "
        "colour "
        "rendering\n"
        "index (CIE 13.3, in our sixteen bands) to these ranges: `white led` 70 to 90, `wide led` over 92,\n"
        "`fluorescent` 74 to 90, `tungsten` over 99.\n\n"
        "A `tungsten` lamp turns warm as you dim it: kelvin goes as light to the power 0.124 (published lamp laws, "
        "from\n"
        "memory), so 3200 K becomes 2940 K at -1 stop and 2480 K at -3. LED and the rest keep their colour.\n";
    for (const auto& [name, like] : std::vector<std::pair<std::string, std::string>>{
             {"wide reflector", "31000 lm head, wide reflector"},
             {"lens at spot", "31000 lm head, lens at spot"},
             {"0.9 m soft box", "31000 lm head in 0.9 m soft box"},
             {"the same with grid", "31000 lm head in 0.9 m soft box with grid"},
             {"0.65 m lantern", "31000 lm head in 0.65 m lantern"},
             {"1.2 m tube", "1.2 m tube"},
             {"0.45 m ring", "0.45 m ring"}})
        lamps.variants.push_back({name, lamp(like, side)});
    lamps.variants.push_back({"table lamp in shot",
                              "[[lamp]]\nname = \"key\"\nlike = \"table lamp, 470 lm, drum shade\"\nat = [2.17, 3.05, "
                              "1.45]\n"});
    all.push_back(lamps);

    Page boards{"boards", "Boards",
                "",       "",
                "",       dark + lamp("31000 lm head in 0.9 m soft box", side),
                {},       {"A far cheek", "A near cheek"}};
    boards.before =
        "The `finish` is what makes a board: white scatters evenly, silver and gold are rough mirrors that throw most "
        "of "
        "the light\n"
        "around the mirror direction. Reflectances are handbook ranges from memory (white foam .80 to .90, bleached "
        "muslin .65 to "
        ".75).\n";
    boards.picture = "A 1.2 m board, 0.8 m beside the face, opposite a soft box; the same stop throughout.";
    boards.after =
        "Silver beats white only in its mirror direction: turn it ten degrees and read again. Never leave a mirror\n"
        "board unattended where the sun can find it.\n";
    const auto board = [](const std::string& finish) {
        return panel("board", "board", "[3.35, 2.95, 1.5]", "size = 1.2\nfinish = \"" + finish + "\"\n");
    };
    boards.variants = {{"none", ""},
                       {"white foam", board("white foam board")},
                       {"bleached muslin", board("bleached muslin")},
                       {"unbleached muslin", board("unbleached muslin")},
                       {"matt silver", board("matt silver board")},
                       {"hard silver", board("hard silver board")},
                       {"gold", board("gold board")},
                       {"black", board("black cloth")}};
    boards.expose_for = "A near cheek";
    boards.opened = 1.2;
    all.push_back(boards);

    Page cloths{"cloths",
                "Cloths and nets",
                "",
                "",
                "",
                dark + wall_meter + lamp("31000 lm head, wide reflector", "[0.4, 1.1, 2.3]") +
                    "[[meter]]\nname = \"behind the cloth\"\nat = [0.5, 2.2, 1.5]\nfacing = [1.2, 1.8, 2.0]\n",
                {},
                {"A front", "wall behind", "behind the cloth"}};
    cloths.before =
        "Light that hits a piece of diffusion goes four ways: some passes straight through, some is scattered on its\n"
        "way through, some is reflected, and some is lost. A cloth's stops say how much it takes from a beam that "
        "meets\n"
        "it square on: straight and scattered light together are 2 to the minus stops. Its `spread` says how wide the\n"
        "scattered light fans out: the full angle, in degrees, at which its intensity has dropped to half; 120 is "
        "fully\n"
        "matt. (The fan is a cosine power, completed so that no light is lost at any angle and both directions behave\n"
        "alike.) We name a cloth by its stops and its spread; the second column has the name you would use on set, "
        "and\n"
        "a file takes either. How the light divides between the four ways, and how wide each cloth spreads it, are "
        "our\n"
        "guesses from memory, not measurements. A net only cuts the light by its stops; it does not scatter it.\n";
    cloths.picture = "A 55 degree head through a 1.2 m frame, 1.1 m in front of the lamp; the same stop throughout.";
    cloths.after =
        "The face loses more than the cloth's rating suggests: a cloth with a wide spread sends light off axis, and "
        "the\n"
        "room bounces only some of it back. Shadows soften only when the light fills the whole frame. What the cloth\n"
        "reflects lights the room on the lamp's side, where the meter \"behind the cloth\" stands.\n";
    cloths.opened = 2;
    const auto cloth = [](const std::string& kind) {
        return panel("cloth", "frame", "[1.2, 1.8, 2.05]", "size = 1.2\nkind = \"" + kind + "\"\n");
    };
    cloths.variants = {{"none", ""}};
    for (const auto& [kind, asked_for] :
         std::vector<std::pair<std::string, std::string>>{{"1/4 stop, spread 12", "eighth white"},
                                                          {"1/3 stop, spread 30", "quarter white"},
                                                          {"3/4 stop, spread 60", "half white"},
                                                          {"1 1/2 stops, spread 100", "full white"},
                                                          {"1 2/3 stops, spread 90", "silk"},
                                                          {"2 1/2 stops, spread 118", "full grid cloth"}})
        cloths.variants.push_back({kind, cloth(kind), asked_for});
    cloths.variants.push_back(
        {"net, 1 stop", panel("net", "net", "[1.2, 1.8, 2.05]", "size = 1.2\nkind = \"double\"\n"), "double net"});
    all.push_back(cloths);

    Page gels{"gels", "Gels", "", "", "", dark, {}, {"A front"}};
    gels.before =
        "A gel shifts mired (a million over kelvin): shifts add, kelvins do not. Orange adds mired, blue takes them "
        "away. Green\n"
        "and magenta gels move a white off the line of whites by a distance, duv. Losses are common practice, no "
        "source; makers "
        "differ.\n";
    gels.picture = "A 5600 K soft box through gels, seen by a camera balanced to 5600 K; the same stop throughout.";
    gels.after =
        "5600 K is 179 mired. Full orange adds 147: 326 mired, or 3070 K. The lamp here is a smooth daylight; on an "
        "LED, whose\n"
        "blue is narrow, a gel comes out up to 25 mired off (a test holds it to that). On a window, give `gel` or `nd` "
        "to the\n"
        "opening. In the sun, gel taped to glass can heat it until it cracks.\n";
    const auto gel = [&](const std::string& g) {
        return lamp("31000 lm head in 0.9 m soft box", side,
                    "light = \"daylight\"\n" + (g.empty() ? "" : "gel = \"" + g + "\"\n"));
    };
    gels.variants = {{"none", gel("")},
                     {"quarter orange", gel("quarter orange")},
                     {"half orange", gel("half orange")},
                     {"full orange", gel("full orange")},
                     {"half blue", gel("half blue")},
                     {"full plus green", gel("full plus green")},
                     {"full minus green", gel("full minus green")},
                     {"nd 0.6", gel("nd 0.6")}};
    all.push_back(gels);

    Page blacks{"flags-and-blacks",
                "Flags and blacks",
                "",
                "",
                "",
                dark + wall_meter,
                {},
                {"A far cheek", "A near cheek", "wall behind"}};
    blacks.before =
        "A flag blocks light; a black takes away what a wall would have given. Black cloth has a reflectance of .03, "
        "worn .07,\n"
        "velvet .006 (handbook ranges, from memory). A black cannot take more than the part of the hemisphere that it "
        "fills: at\n"
        "0.6 m a stop and a half for 1.2 by 2.4 m, half a stop for 0.6 by 0.9 m.\n";
    blacks.picture = "A soft box from the left; blacks at the far cheek, then a flag that keeps the box off the wall.";
    blacks.after = "Halving the distance beats doubling the area. In a dark room black does almost nothing.\n";
    const std::string box = lamp("31000 lm head in 0.9 m soft box", side);
    const auto black = [&](const std::string& at, const std::string& size) {
        return box + panel("flag", "black", at, "size = " + size + "\n");
    };
    blacks.variants = {
        {"none", box},
        {"0.6 x 0.9 m at 0.6 m", black("[3.1, 3.0, 1.55]", "[0.6, 0.9]")},
        {"1.2 x 1.2 m at 0.6 m", black("[3.1, 3.0, 1.5]", "[1.2, 1.2]")},
        {"1.2 x 2.4 m at 0.6 m", black("[3.1, 3.0, 1.4]", "[1.2, 2.4]")},
        {"1.2 x 2.4 m at 1 m", black("[3.5, 3.0, 1.4]", "[1.2, 2.4]")},
        {"flag off the wall",
         box + "[[flag]]\nname = \"cutter\"\nat = [1.42, 3.25, 1.9]\nfacing = [1.0, 2.3, 1.95]\nsize = [0.9, 1.2]\n"}};
    all.push_back(blacks);

    Page windows{"windows",
                 "Windows",
                 "",
                 "",
                 "",
                 "[[meter]]\nname = \"floor\"\nat = [1.2, 2.6, 0.02]\n"
                 "[day]\nsky = \"hazy\"\ndate = 2026-04-14\ntime = \"16:10\"\n",
                 {},
                 {"A near cheek", "A far cheek", "floor"}};
    windows.before =
        "An opening takes `glass`, `bars`, `nd`, a `gel`, a `curtain` (a percentage, a curtain by name, or a cloth by "
        "name) and\n"
        "a `blind`, traced slat by slat. How much curtains pass is common practice, no source.\n";
    windows.picture = "A window on the left with the sun on it; the same stop throughout.";
    windows.after =
        "A positive `tilt` turns the slats' outer edges up, against sky and sun; light from below still gets in, onto "
        "the ceiling.\n"
        "Frames outside an upper floor are a rigger's job; nobody leans out.\n";
    const auto window = [](const std::string& words) {
        return "[[place.opening]]\nname = \"window\"\nwall = \"left\"\nfrom = 1.7\nto = 3.3\nsill = 0.8\nhead = 2.6\n" +
               words;
    };
    windows.variants = {{"bare glass", window("")},
                        {"sheer", window("curtain = \"sheer\"\n")},
                        {"thick sheer", window("curtain = \"thick sheer\"\n")},
                        {"3/4 stop, spread 60", window("curtain = \"3/4 stop, spread 60\"\n"), "half white"},
                        {"blind, slats level", window("blind = { slat = 0.05, tilt = 0 }\n")},
                        {"blind, tilted 45", window("blind = { slat = 0.05, tilt = 45 }\n")},
                        {"nd 0.6", window("nd = 0.6\n")},
                        {"half orange", window("gel = \"half orange\"\n")}};
    windows.expose_for = "A near cheek";
    windows.opened = 1.2;
    all.push_back(windows);
    return all;
}

}  // namespace rushlight::kit_pages
