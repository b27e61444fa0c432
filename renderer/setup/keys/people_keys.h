// The keys of who stands on a mark.
#pragma once

#include "setup/keys/key_table.h"

#include <array>

namespace rushlight {

inline constexpr std::array person_keys{
    Key{"cast", KeyKind::named, "one of our people by name", 0, 0, "-",
        "somebody ready-made; what you write here changes them"},
    Key{"height", KeyKind::length, "m", 0.4, 2.6, "1.7", "shoes included"},
    Key{"sex", KeyKind::word, "", 0, 0, "-", "default: guessed from height and hair", "woman|man"},
    Key{"age", KeyKind::number, "years", 1, 100, "-", "default: guessed from height and hair"},
    Key{"build", KeyKind::word, "", 0, 0, "average", "", "slim|average|sturdy|heavy"},
    Key{"face", KeyKind::number, "whole number", 1, 9999, "-",
        "another number, another face; default: from the name of the mark"},
    Key{"expression", KeyKind::word, "", 0, 0, "neutral", "", "neutral|listening|smiling|worried|eyes closed"},
    Key{"pose", KeyKind::word, "", 0, 0, "standing", "", "standing|walking|leaning|seated"},
    Key{"seat", KeyKind::length, "m", 0.1, 1.2, "0.45", "height of the seat above the floor"},
    Key{"hands", KeyKind::word, "", 0, 0, "at rest", "at rest: at the sides, or in the lap",
        "at rest|in lap|on table|cup|book"},
    Key{"table", KeyKind::length, "m", 0.2, 1.4, "0.74",
        "height of the table that hands rest on or the person leans on"},
    Key{"skin", KeyKind::number, "share", 0.01, 0.8, "0.2", "luminous reflectance, gloss apart"},
    Key{"hair", KeyKind::named, "share, or one of: bald, black, brown, red, blond, grey, white", 0, 1, "0.06", ""},
    Key{"hair_cut", KeyKind::word, "", 0, 0, "short", "how it is worn", "cropped|short|bob|long|tied back"},
    Key{"hair_wave", KeyKind::number, "share", 0, 1, "0.2", "0 straight, 1 curled"},
    Key{"wear", KeyKind::word, "", 0, 0, "jumper", "with shirt: a jacket", "jumper|shirt|tee|jacket|dress"},
    Key{"wardrobe", KeyKind::number, "share", 0, 1, "0.15", "luminous reflectance"},
    Key{"wardrobe_hue", KeyKind::named, "hue", 0, 0, "neutral", ""},
    Key{"shirt", KeyKind::number, "share", 0, 1, "-",
        "luminous reflectance of a shirt, seen at collar and chest; the wardrobe is then an open jacket"},
    Key{"shirt_hue", KeyKind::named, "hue", 0, 0, "neutral", ""},
    Key{"glasses", KeyKind::word, "", 0, 0, "none", "their rims: thin metal, or dark or pale plastic",
        "none|wire|dark|pale"},
    Key{"lenses", KeyKind::word, "", 0, 0, "plain",
        "of the glasses: bare glass (mirrors 8 %), with a coat against reflections (1 %), or rims without glass",
        "plain|coated|empty"},
    Key{"hours", KeyKind::named, "[\"09:30\", \"15:00\"]", 0, 0, "-", "when they are there, by the place's own clock"},
};

}  // namespace rushlight
