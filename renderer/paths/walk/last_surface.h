// Sorts light by the surface that a meter sees it come from: the first thing on the way back. That may be a wall, a
// board, the lamp itself, or the pane, net or cloth that the light came through unbent. What is seen through an opening
// comes from there.
#pragma once

#include "scene/rays/ray_scene.h"
#include "scene/rays/rectangle.h"

#include <string>
#include <vector>

namespace rushlight {

struct LastSurfaces {
    std::vector<std::string> names;      // of the groups that parts belong to
    std::vector<std::uint32_t> of_part;  // group of each part of the scene
    std::vector<Rectangle> holes;        // openings, of which the bare ones are no part
    std::vector<std::uint32_t> of_hole;  // group of each
    std::uint32_t beyond = 0;            // group of the light that comes from no part and through no hole

    std::size_t group(const RayScene& rays, const Vec3& from, const Vec3& toward) const {
        const auto hit = rays.first_hit(Ray{from, toward});
        if (hit && rays.part(hit->part).kind != PartKind::outside) return of_part[hit->part];
        for (std::size_t i = 0; i < holes.size(); ++i) {
            const auto crossing = holes[i].crossed_by(from, toward);
            if (crossing && (!hit || crossing->distance < hit->distance)) return of_hole[i];
        }
        return hit ? of_part[hit->part] : beyond;
    }
};

}  // namespace rushlight
