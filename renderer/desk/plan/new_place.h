// The first set-up file of somebody who has none: a room, its windows, marks, a lamp, written with words for people.
#pragma once

#include "pictures/words/json_value.h"

#include <filesystem>
#include <string>

namespace rushlight::desk {

/// The text of a sound set-up file; throws InputError where the wish is not sound.
std::string new_place_text(const JsonValue& wish);
/// Writes it under a name of its own in the folder that the program runs in.
std::filesystem::path write_new_place(const JsonValue& wish);
JsonValue state_without_file();

}  // namespace rushlight::desk
