// The beginning of a set-up file that is written for one test: an empty room. A test whose closed form needs more of the
// place (where the sun is, how thick the walls are) writes it out itself.
#pragma once

#include <string>

namespace rushlight::testing_rooms {

/// Metres, as a set-up file has them.
inline std::string room(const std::string& width, const std::string& depth, const std::string& height) {
    return "[place]\nroom = { width = " + width + ", depth = " + depth + ", height = " + height + " }\n";
}

/// By night, and nothing sends light back: what a meter reads comes straight from the lamps.
inline std::string black_room(const std::string& width, const std::string& depth, const std::string& height) {
    return room(width, depth, height) + "surfaces = { walls = 0, floor = 0, ceiling = 0 }\n[day]\ndark = true\n";
}

}  // namespace rushlight::testing_rooms
