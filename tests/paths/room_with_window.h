// A room by hand that a window lights.
#pragma once

#include "paths/small_scenes.h"

#include <memory>

namespace rushlight::small {

/// Adds the walls of `room` round a window of 1.2 x 1.2 m in the near one. Gives the hole back, unglazed; how large the
/// inside is stays to be said.
inline std::shared_ptr<Openings> add_room_with_window(Scene& s, Room room) {
    Opening window;
    window.wall = Wall::near;
    window.from = 1;
    window.to = 2.2;
    window.sill = 0.9;
    window.head = 2.1;
    room.openings = {window};
    for (int w = 0; w < 6; ++w) add(s, wall_mesh(room, static_cast<Wall>(w)));
    add(s, reveal_mesh(room, window));
    auto openings = std::make_shared<Openings>();
    openings->rectangles.push_back(opening_rectangle(room, window));
    openings->closed = true;
    return openings;
}

}  // namespace rushlight::small
