// What of the rig stands in the picture.
#pragma once

#include "scene/scene.h"
#include "setup/plain/setup.h"

#include <string>
#include <vector>

namespace rushlight {

/// Lamps, boards, flags, cloths and nets that the lens sees, those that fill most of the picture first. What fills less
/// of it than a 32nd of its width each way may be missed; without a camera there is nothing.
std::vector<std::string> in_shot(const Setup& setup, const Scene& scene);

}  // namespace rushlight
