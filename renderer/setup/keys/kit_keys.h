// The words of the key table that are about the kit: what lamps are made of, what hangs in openings, kit files.
#pragma once

#include "setup/keys/key_table.h"

#include <array>

namespace rushlight {

inline constexpr Key like_key{"like",
                              KeyKind::named,
                              "name of an item of the kit",
                              0,
                              0,
                              "-",
                              "from a kit file or the catalogue; then write only what differs"};
inline constexpr Key light_key{"light",
                               KeyKind::word,
                               "",
                               0,
                               0,
                               "-",
                               "what glows; default: a smooth white",
                               "tungsten|daylight|white led|wide led|two-channel led|fluorescent"};
inline constexpr Key tint_key{"tint",
                              KeyKind::number,
                              "duv",
                              -0.03,
                              0.03,
                              "-",
                              "off the Planckian locus: green positive; default: as the kind of light is"};
inline constexpr Key shade_key{"shade", KeyKind::table, "[[lamp]] shade", 0, 0, "-", "round a bulb"};
inline constexpr Key watts_key{
    "watts", KeyKind::number, "W", 0, 30000, "0", "drawn from the mains at full; 0: not known"};
inline constexpr Key circuit_key{
    "circuit", KeyKind::named, "name of a circuit", 0, 0, "-", "the one it is plugged into"};
inline constexpr Key curtain_key{"curtain",
                                 KeyKind::named,
                                 "share, or name of a curtain or cloth",
                                 0,
                                 1,
                                 "1",
                                 "a name, or the share of light that a sheer curtain lets through; 1 is no curtain"};

inline constexpr std::array shade_keys{
    Key{"bottom", KeyKind::length, "m", 0.01, 3, "0.35", "diameter"},
    Key{"top", KeyKind::length, "m", 0.01, 3, "-", "diameter; default: a drum"},
    Key{"height", KeyKind::length, "m", 0.01, 3, "0.25", ""},
    Key{"lift", KeyKind::length, "m", -3, 3, "0", "its middle over the middle of the bulb"},
    Key{"passes", KeyKind::number, "share", 0, 0.9, "0.45",
        "share of the light that comes through the shade, scattered"},
    Key{"hue", KeyKind::named, "hue", 0, 0, "cream", ""},
    Key{"finish", KeyKind::finish, "finish", 0, 0, "-", "instead of passes and hue: black cloth makes a skirt"},
};
inline constexpr std::array blind_keys{
    Key{"slat", KeyKind::length, "m", 0.005, 0.3, "0.025", "width of a slat"},
    Key{"pitch", KeyKind::length, "m", 0.004, 0.3, "-", "from one slat to the next; default: 0.85 slats"},
    Key{"tilt", KeyKind::number, "degrees", -90, 90, "45", "from level, outer edge up; 90: shut"},
    Key{"drawn", KeyKind::number, "share", 0, 1, "1", "of the opening, from the head down or from the left"},
    Key{"upright", KeyKind::yes_no, "", 0, 0, "false", "slats that hang"},
    Key{"finish", KeyKind::finish, "finish", 0, 0, "white matt paint", "of the slats"},
};
inline constexpr std::array measured_keys{
    Key{"name", KeyKind::text, "text", 0, 0, "", "of the reading"},
    Key{"source", KeyKind::named, "daylight, or name of a lamp", 0, 0, "daylight",
        "what was on, with everything else off"},
    Key{"lux", KeyKind::number, "lx", 0.1, 200000, "", "what the meter said"},
    Key{"at", KeyKind::named, "name of a mark, or [x, y, z] m", -1000, 1000, "", "a mark: a hand in front of its face"},
    Key{"facing", KeyKind::named, "[x, y, z] m, up, down, or name of a mark or camera", -1000, 1000, "-",
        "default: up; at a mark, the way it faces"},
    Key{"receptor", KeyKind::word, "", 0, 0, "flat", "", "flat|dome"},
};
inline constexpr std::array circuit_keys{
    Key{"name", KeyKind::text, "text", 0, 0, "", ""},
    Key{"volts", KeyKind::number, "V", 12, 480, "230", ""},
    Key{"amps", KeyKind::number, "A", 0.5, 400, "16", "what its breaker carries; read it, do not guess"},
    Key{"other", KeyKind::number, "W", 0, 100000, "0", "what else is on it: a kettle, a fridge"},
};
inline constexpr std::array kit_file_keys{
    Key{"title", KeyKind::text, "text", 0, 0, "-", "whose kit it is"},
    Key{"own", KeyKind::table, "[own]", 0, 0, "-", "name of a generic item or part = how many are owned"},
    Key{"part", KeyKind::tables, "[[part]]", 0, 0, "-", "what several items share: a head, a frame, stands"},
    Key{"lamp", KeyKind::tables, "[[lamp]]", 0, 0, "-",
        "the keys of [[lamp]] and of a kit item, but not at, aim, roll, level, on and circuit"},
    Key{"board", KeyKind::tables, "[[board]]", 0, 0, "-",
        "the keys of [[board]] and of a kit item, but not at, facing and roll"},
    Key{"flag", KeyKind::tables, "[[flag]]", 0, 0, "-",
        "the keys of [[flag]] and of a kit item, but not at, facing and roll"},
    Key{"cloth", KeyKind::tables, "[[cloth]]", 0, 0, "-",
        "the keys of [[cloth]] and of a kit item, but not at, facing and roll"},
    Key{"net", KeyKind::tables, "[[net]]", 0, 0, "-",
        "the keys of [[net]] and of a kit item, but not at, facing and roll"},
};
inline constexpr std::array kit_item_keys{
    Key{"count", KeyKind::number, "", 0, 1000, "-", "how many are owned; default: one, or as many as its parts allow"},
    Key{"weight", KeyKind::number, "kg", 0, 500, "0", "weight of one, without its stand; 0 means not known"},
    Key{"stand", KeyKind::text, "name of a part", 0, 0, "-", "the kind of stand that holds it up"},
    Key{"stands", KeyKind::number, "", 0, 10, "1", "how many of them: a frame needs two"},
    Key{"parts", KeyKind::named, "list of names of parts", 0, 0, "-", "what it shares with other items"},
    Key{"practical", KeyKind::yes_no, "", 0, 0, "false", "a lamp of the place: it is never short"},
    Key{"source", KeyKind::text, "text", 0, 0, "-", "where its numbers come from"},
    Key{"notes", KeyKind::text, "text", 0, 0, "-", "a note to the crew"},
};
inline constexpr std::array part_keys{
    Key{"name", KeyKind::text, "text", 0, 0, "", ""},
    Key{"count", KeyKind::number, "", 0, 1000, "-", "how many are owned; default: not counted"},
    Key{"weight", KeyKind::number, "kg", 0, 500, "0", "weight of one"},
    Key{"notes", KeyKind::text, "text", 0, 0, "-", "a note to the crew"},
};
}  // namespace rushlight
