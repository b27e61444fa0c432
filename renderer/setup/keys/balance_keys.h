// The words of the key table for `balance`: what is wanted, and what may change.
#pragma once

#include "setup/keys/key_table.h"

#include <array>

namespace rushlight {

inline constexpr std::array target_keys{
    Key{"reading", KeyKind::text, "text", 0, 0, "",
        "\"A key cheek\", \"A cheeks\", \"A hair\", a meter, an opening (its view from the camera)"},
    Key{"want", KeyKind::text,
        "\"T4\", \"400 lx\", \"4:1\", \"1 over\", \"at most 3 over\", \"2 under B near cheek\", "
        "\"match SET-UP\", \"5600 K\"",
        0, 0, "", "may end with \"within 1/3\" (stops; mired for K)"},
    Key{"setups", KeyKind::named, "list of set-up names", 0, 0, "-", "default: all"},
};
inline constexpr std::array move_keys{
    Key{"name", KeyKind::text, "name of a lamp or panel", 0, 0, "", ""},
    Key{"to", KeyKind::lengths, point_form, -far_away, far_away, "",
        "the far end of the move: anywhere on the straight line from where it is to here, aimed as the file says"},
};
inline constexpr std::array balance_keys{
    Key{"lamps", KeyKind::named, "list of lamp names", 0, 0, "-",
        "lamps whose levels may change; default: all that are on"},
    Key{"gels", KeyKind::yes_no, "", 0, 0, "false", "whether one more orange or blue gel may be put on each of them"},
    Key{"nd", KeyKind::yes_no, "", 0, 0, "false", "whether ND sheet may be put on all windows"},
    Key{"stop", KeyKind::named, "[from, to] T", 0.5, 64, "-",
        "range of the camera's stop; default: as it is, or as a target sets it"},
    Key{"move", KeyKind::tables, "[[balance.move]]", 0, 0, "-", "what may move"},
};

}  // namespace rushlight
