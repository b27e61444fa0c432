// The keys of cameras: of the body that a file may share, and of each camera itself.
#pragma once

#include "setup/keys/key_table.h"

#include <algorithm>
#include <array>

namespace rushlight {

/// What a camera body and its usual lens bring to every set-up.
inline constexpr std::array body_keys{
    Key{"lens_passes", KeyKind::number, "share", 0.3, 1, "0.85",
        "share of the light that the lens lets through: f-number = T × √share"},
    Key{"sensor", KeyKind::named, "[width, height] mm, or a size by name", 1, 200, "[24.9, 14]", "as recorded"},
    Key{"t_stop", KeyKind::number, "T", 0.5, 64, "2.8", ""},
    Key{"shutter", KeyKind::number, "degrees", 1, 360, "180", "shutter angle"},
    Key{"fps", KeyKind::number, "1/s", 1, 1000, "24", "frames a second"},
    Key{"iso", KeyKind::number, "", 25, 409600, "800", ""},
    Key{"nd", KeyKind::number, "density", 0, 6, "0", "in front of the lens: 0.3 is one stop"},
    Key{"white_balance", KeyKind::number, "K", 1000, 25000, "5600", ""},
    Key{"tint", KeyKind::number, "Duv", -0.05, 0.05, "0",
        "part of the white balance: positive takes out green, negative magenta"},
    Key{"headroom", KeyKind::number, "stops", 1, 12, "6", "how far over grey the picture clips"},
    Key{"footroom", KeyKind::number, "stops", 1, 16, "5", "how far under grey the picture is still usable"},
    Key{"delivery", KeyKind::named, "width over height", 0.2, 5, "-",
        "shape of the delivered picture, such as 2.39 or \"16:9\": shots are framed for it, the rest is "
        "dimmed"},
};
inline constexpr std::array camera_own_keys{
    Key{"name", KeyKind::text, "text", 0, 0, "", ""},
    Key{"at", KeyKind::lengths, point_form, -far_away, far_away, "-",
        "the lens; with a shot: the direction it looks from"},
    Key{"look_at", KeyKind::named, aim_form, -far_away, far_away, "-",
        "a mark: its face; needed without shot or reverse_of"},
    Key{"shot", KeyKind::named, "name of a shot size", 0, 0, "-", "places the camera: docs/camera.md"},
    Key{"of", KeyKind::named, "name of a mark", 0, 0, "-", "who is in the shot or the reverse"},
    Key{"off_eyeline", KeyKind::number, "degrees", -180, 180, "-",
        "of a shot: where the lens stands, from the nose towards the person's left"},
    Key{"lens_height", KeyKind::length, "m", 0, 100, "-", "of a shot; default: the height of the eyes"},
    Key{"reverse_of", KeyKind::named, "name of a camera above", 0, 0, "-",
        "the other side of the conversation: that camera mirrored, on the same side of the line"},
    Key{"roll", KeyKind::number, "degrees", -360, 360, "0", "anticlockwise seen from behind the camera"},
    Key{"lens", KeyKind::number, "mm", 2, 2000, "35", "focal length"},
    Key{"focus", KeyKind::named, "m, [x, y, z] m, name of a mark, or \"everything\"", -far_away, far_away, "-",
        "what is sharp; default: what the camera looks at"},
    Key{"mist", KeyKind::named, "share, or one of: eighth, quarter, half", 0, 0.5, "0",
        "diffusion filter: light spread"},
    Key{"mist_core", KeyKind::number, "degrees", 0.05, 10, "1.5", "width of its inner glow at half the light"},
    Key{"mist_skirt", KeyKind::number, "degrees", 0.5, 40, "12", "width of its outer glow at half the light"},
    Key{"polarizer", KeyKind::number, "degrees", -360, 360, "-",
        "0 takes glare off tables and floors, 90 off upright glass to the side; default: none"},
    Key{"polarizer_stops", KeyKind::number, "stops", 1, 4, "1.5", "what it costs everything else"},
    Key{"graduated", KeyKind::number, "density", 0, 3, "0", "ND over one side of the picture, at its darkest"},
    Key{"graduated_edge", KeyKind::number, "share", -1, 2, "0.6", "middle of the change, up the picture's height"},
    Key{"graduated_blend", KeyKind::number, "share", 0, 2, "0.2", "width of the change: 0 is a hard edge"},
    Key{"graduated_turn", KeyKind::number, "degrees", -360, 360, "0", "0: dark above, 90: dark to the left"},
};

template <std::size_t first, std::size_t second>
inline constexpr std::array<Key, first + second> both(const std::array<Key, first>& a,
                                                      const std::array<Key, second>& b) {
    std::array<Key, first + second> all{};
    std::copy(a.begin(), a.end(), all.begin());
    std::copy(b.begin(), b.end(), all.begin() + first);
    return all;
}
inline constexpr auto camera_keys = both(camera_own_keys, body_keys);

}  // namespace rushlight
