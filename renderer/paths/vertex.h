// One meeting of a path with a surface, and what must be remembered there to weigh the path fairly.
//
// A light path can be found in several ways: by walking from the meter and meeting the lamp, by walking and
// asking a lamp for light, by joining a walk from the meter to a walk from a lamp, or by walking from a lamp
// and looking at the meter. Each way is weighed by its own density over the sum of all densities (the balance
// heuristic, Veach 1997). The sum over all ways of one path is kept in two numbers a vertex:
//
//   weight_of_others(v, back) = here + back * before
//
// `here` is (samples of the way that joins at v's predecessor) / (area density with which this walk reached
// v); `before` holds all ways that join still earlier, up to the density `back`, per steradian, with which the
// opposite walk would leave v towards v's predecessor. That density is known once the next direction is, so
// the recursion runs forward with the walk:
//
//   here(next)   = samples / density(next)
//   before(next) = cosine(v) / (d^2 density(next)) * weight_of_others(v, back)
//
// A first vertex differs by what comes before it: see light_paths.cpp and camera_paths.cpp.
#pragma once

#include "quantity/space.h"
#include "quantity/spectrum.h"
#include "scene/ray_scene.h"

#include <cmath>

namespace rushlight {

/// A shadow ray stops short of its end by this share of the way, so as not to be stopped by what lies there.
inline constexpr float short_of = 1.0F - 2e-5F;

/// The ray from `start`, a hair off `at` or there itself, to the point `away` along `toward` from `at`, ending just
/// short of it. It is aimed anew: side by side with the line to that point it would meet whatever lies there too
/// early, and be stopped by it.
inline Ray ray_to_point(const Vec3& start, const Vec3& at, const Vec3& toward, float away) {
    if (std::isinf(away)) return Ray{start, toward, away};
    const Vec3 way = at + toward * away - start;
    const float length = way.length();
    return Ray{start, way / length, length * short_of};
}

struct Vertex {
    Vec3 position{0, 0, 0};
    Vec3 normal{0, 0, 1};
    Vec3 from{0, 0, 1};  // unit, back to the previous vertex
    float distance = 0;  // to the previous vertex
    const Surface* surface = nullptr;
    float here = 0;
    float before = 0;
    float light = 0;  // of a light vertex: what it carries, photometrically
    std::uint32_t part = 0;
    // All that a join is chosen by comes before this: one line of the cache.
    Spectrum carried;  // what the walk has kept so far

    Vertex() = default;
    /// Where a walk along `direction` met something; how others could have come there is for the walk to say.
    Vertex(const RayScene& rays, const Hit& hit, const Vec3& direction, const Spectrum& kept)
        : position(hit.position),
          normal(hit.normal),
          from(-direction),
          distance(hit.distance),
          surface(&rays.surface_of(hit)),
          part(hit.part),
          carried(kept) {}

    float weight_of_others(float back) const { return here + back * before; }
    Vec3 lifted_to(const Vec3& toward) const { return lifted(position, normal, toward, distance); }
    Ray ray_to(const Vec3& toward, float away) const { return ray_to_point(lifted_to(toward), position, toward, away); }
};

}  // namespace rushlight
