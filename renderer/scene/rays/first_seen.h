// The first thing that an eye or a lens sees, through panes, nets and cloths that it can see through.
#pragma once

#include "scene/rays/ray_scene.h"

#include <optional>

namespace rushlight {

/// An eye looks through glass of any darkness, and through nets and cloths that let three tenths or more pass straight;
/// it sees what stands behind.
inline bool looked_through(const Part&, const Surface& s) {
    return s.pane || (s.veil() && s.straight_at(1.0F).largest() > 0.3F);
}

/// The first hit whose part and surface are not `passed`; its distance counts from the ray's start. Nothing where
/// the ray leaves the place, or where more veils hang behind each other than any rig has.
template <class Passed>
std::optional<Hit> first_seen(const RayScene& rays, Ray ray, const Passed& passed) {
    float gone = 0;
    for (int veil = 0; veil < 16; ++veil) {
        auto hit = rays.first_hit(ray);
        if (!hit) return std::nullopt;
        const Part& part = rays.part(hit->part);
        // All tones of a pattern pass alike: the first will do.
        if (!passed(part, rays.surface(part.surface))) {
            hit->distance += gone;
            return hit;
        }
        gone += hit->distance;
        ray.origin = lifted(hit->position, hit->normal, ray.direction, hit->distance);
    }
    return std::nullopt;
}

}  // namespace rushlight
