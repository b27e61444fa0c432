// Triangles with one finish: what every builder hands to the ray-tracing scene.
#pragma once

#include "quantity/space.h"
#include "setup/finish.h"

#include <array>
#include <cstdint>
#include <string>
#include <vector>

namespace rushlight {

struct Mesh {
    std::string name;
    std::vector<Vec3> positions;
    std::vector<std::array<std::uint32_t, 3>> triangles;
    Finish finish;
};

}  // namespace rushlight
