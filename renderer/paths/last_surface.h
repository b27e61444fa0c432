// Light told apart by what a meter sees it come from: the first thing on the way back, be it a wall, a board, the lamp
// itself, or the pane, net or cloth that it came through unbent.
#pragma once

#include "scene/ray_scene.h"

#include <string>
#include <vector>

namespace rushlight {

struct LastSurfaces {
    std::vector<std::string> names;      // of the groups that parts belong to
    std::vector<std::uint32_t> of_part;  // group of each part of the scene
    std::uint32_t beyond = 0;            // group of what is met by nothing

    std::size_t group(const RayScene& rays, const Vec3& from, const Vec3& toward) const {
        const auto hit = rays.first_hit(Ray{from, toward});
        return hit ? of_part[hit->part] : beyond;
    }
};

}  // namespace rushlight
