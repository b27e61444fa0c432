// One meeting of a path with a surface, and what must be remembered there to weigh the path fairly.
//
// A light path can be found in several ways: by walking from the meter and meeting the lamp, by walking and
// asking a lamp for light, by joining a walk from the meter to a walk from a lamp, or by walking from a lamp
// and looking at the meter. Each way is weighed by its own pdf over the sum of all pdfs (the balance
// heuristic, Veach 1997). The sum over all ways of one path is kept in two numbers a vertex:
//
//   weight_of_others(v, back) = here + back * before
//
// `here` is (samples of the way that joins at v's predecessor) / (area pdf with which this walk reached
// v); `before` holds all ways that join still earlier, up to the pdf `back`, per steradian, with which the
// opposite walk would leave v towards v's predecessor. That pdf is known once the next direction is, so
// the recursion runs forward with the walk:
//
//   here(next)   = samples / pdf(next)
//   before(next) = cosine(v) / (d^2 pdf(next)) * weight_of_others(v, back)
//
// A first vertex differs by what comes before it: see light_paths.cpp and camera_paths.cpp.
#pragma once

#include "quantity/space.h"
#include "quantity/spectrum.h"
#include "scene/rays/ray_scene.h"

#include <algorithm>
#include <cmath>
#include <optional>

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

/// Two kinds of surface scatter differently to and fro: a body that is shaded as round though it is made of flat faces,
/// and a fibre, which is met as a ribbon that faces the ray. On these only the direction to the light carries the
/// cosine. Every answer here must therefore know which end is the light's, and each kind of walk asks its own question.
struct Vertex {
    Vec3 position{0, 0, 0};
    Vec3 normal{0, 0, 1};
    Vec3 from{0, 0, 1};  // unit, back to the previous vertex
    float distance = 0;  // to the previous vertex
    const Surface* surface = nullptr;
    float here = 0;
    float before = 0;
    float light = 0;  // of a light vertex: the light it carries, photometrically
    std::uint32_t part = 0;
    // Everything that resampling reads stands before this line, in one line of the cache.
    Spectrum throughput;  // what the walk has kept so far
    HitFrame frame;

    Vertex() = default;
    /// A hit of a walk along `direction`. The walk itself fills in how other ways could have reached it.
    Vertex(const RayScene& rays, const Hit& hit, const Vec3& direction, const Spectrum& so_far)
        : position(hit.position),
          normal(hit.normal),
          from(-direction),
          distance(hit.distance),
          surface(&rays.surface_of(hit)),
          part(hit.part),
          throughput(so_far),
          frame(hit.frame) {}

    bool is_fibre() const { return frame.kind == HitFrame::Kind::fibre; }
    float weight_of_others(float back) const { return here + back * before; }

    /// How large the surface looks from there: 0 where no walk can come from.
    float cosine(const Vec3& toward) const {
        if (frame.kind == HitFrame::Kind::flat) return std::abs(normal.dot(toward));
        if (frame.kind == HitFrame::Kind::rounded) return std::max(0.0F, normal.dot(toward));
        const float s = frame.way.dot(toward);
        return std::sqrt(std::max(0.0F, 1.0F - s * s));
    }
    /// Radiance sent to the eye for each unit of radiance and steradian from the light's side.
    Spectrum sent(const Vec3& to_eye, const Vec3& to_light) const;
    /// For a walk from a light that came by `from`: the light it would bring to the eye, with the cosine there. No walk
    /// from a light goes on from a fibre.
    Spectrum brought(const Vec3& to_eye) const;
    /// Pdfs per steradian of a walk from a meter or a pixel, and of one from a light, by the surface alone.
    float pdf_to_light(const Vec3& to_eye, const Vec3& to_light) const;
    float pdf_to_eye(const Vec3& to_light, const Vec3& to_eye) const;
    /// The next direction of a walk that came by `from`; its `weight` counts all cosines.
    std::optional<Surface::Bounce> bounce_to_light(float u0, float u1, float u2) const;
    std::optional<Surface::Bounce> bounce_to_eye(float u0, float u1, float u2) const;

    /// The shading normal of a rounded body, turned to the side of `toward` and no further from it than grazing.
    Vec3 facing(const Vec3& toward) const;
    /// The point where a ray along `toward` starts, and where a ray from that side ends.
    Vec3 lifted_to(const Vec3& toward) const;
    Ray ray_to(const Vec3& toward, float away) const { return ray_to_point(lifted_to(toward), position, toward, away); }
    /// How far short of here a ray that comes against `toward` must end.
    float room_before(const Vec3& toward) const { return (lifted_to(toward) - position).dot(toward); }
    /// To another vertex, ending short of that one's surface.
    Ray ray_to(const Vertex& other, const Vec3& toward) const;
};

}  // namespace rushlight
