// The materials beside an OBJ model (MTL): their names and their colour in diffuse light, and nothing else.
#pragma once

#include "setup/text/patience.h"

#include <array>
#include <functional>
#include <string>

namespace rushlight {

/// Linear shares in 0..1.
using TakeColour = std::function<void(const std::string& material, const std::array<float, 3>& colour)>;

/// Calls `take` for each material that has a colour (Kd in three numbers, or one for grey), the file's first word
/// first. Throws InputError for what is not text.
void read_materials(const std::string& path, const Patience& patience, const TakeColour& take);

}  // namespace rushlight
