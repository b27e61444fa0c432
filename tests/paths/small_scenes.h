// Small scenes built by hand for tests with closed-form answers.
#pragma once

#include "paths/measure.h"
#include "scene/furniture/furniture.h"
#include "scene/room.h"
#include "scene/scene.h"

#include <gtest/gtest.h>

#include <cmath>

namespace rushlight::small {

inline Finish matt(double reflectance) {
    Finish f;
    f.reflectance = Spectrum{static_cast<float>(reflectance)};
    return f;
}

inline Lamp lamp(LampShape shape, Vec3 at, Vec3 aim, double width, double height, double lumen) {
    Lamp l;
    l.name = "lamp";
    l.shape = shape;
    l.at = at;
    l.aim = aim;
    l.width = width;
    l.height = height;
    l.intensity_or_flux = equal_energy() * static_cast<float>(lumen);
    return l;
}

inline std::uint32_t add(Scene& s, const Mesh& mesh) {
    return add_part(s, mesh, PartKind::room, "");
}

/// Walls, floor and ceiling of one finish around the origin's corner.
inline void add_box(Scene& s, Vec3 size, const Finish& finish) {
    Room room;
    room.width = size.x;
    room.depth = size.y;
    room.height = size.z;
    room.finish.fill(finish);
    for (int w = 0; w < 6; ++w) add(s, wall_mesh(room, static_cast<Wall>(w)));
}

inline void finish(Scene& s) {
    s.lights.settle(s.mirrors);
    s.rays.commit();
}

/// A sphere of triangles that faces inwards as well as outwards: 20 * 4^n faces.
inline Mesh icosphere(Vec3 centre, float radius, int subdivisions) {
    const float g = (1.0F + std::sqrt(5.0F)) / 2.0F;
    Mesh m;
    m.positions = {{-1, g, 0},  {1, g, 0},  {-1, -g, 0}, {1, -g, 0}, {0, -1, g},  {0, 1, g},
                   {0, -1, -g}, {0, 1, -g}, {g, 0, -1},  {g, 0, 1},  {-g, 0, -1}, {-g, 0, 1}};
    m.triangles = {{0, 11, 5},  {0, 5, 1},  {0, 1, 7},  {0, 7, 10}, {0, 10, 11}, {1, 5, 9}, {5, 11, 4},
                   {11, 10, 2}, {10, 7, 6}, {7, 1, 8},  {3, 9, 4},  {3, 4, 2},   {3, 2, 6}, {3, 6, 8},
                   {3, 8, 9},   {4, 9, 5},  {2, 4, 11}, {6, 2, 10}, {8, 6, 7},   {9, 8, 1}};
    for (int i = 0; i < subdivisions; ++i) {
        std::vector<std::array<std::uint32_t, 3>> finer;
        for (const auto& t : m.triangles) {
            const auto n = static_cast<std::uint32_t>(m.positions.size());
            for (int k = 0; k < 3; ++k)
                m.positions.push_back((m.positions[t[static_cast<std::size_t>(k)]] +
                                       m.positions[t[static_cast<std::size_t>((k + 1) % 3)]]) *
                                      0.5F);
            finer.insert(finer.end(), {{t[0], n, n + 2}, {t[1], n + 1, n}, {t[2], n + 2, n + 1}, {n, n + 1, n + 2}});
        }
        m.triangles = finer;
        for (Vec3& p : m.positions) p.normalize();
    }
    for (Vec3& p : m.positions) p = centre + p.normalized() * radius;
    return m;
}

inline Effort effort(double error, std::uint64_t seed = 7) {
    Effort e;
    e.relative_error = error;
    e.seed = seed;
    e.most_seconds = 120;
    return e;
}

/// Within `sigmas` standard errors, and the error small enough for that to prove something.
/// How long to go on is decided by other samples than those the error is told from, so what is told scatters about what
/// was asked for, by an eighth (31 degrees of freedom).
inline void expect_reading(const Measured& got, double want, double largest_relative_error, double sigmas = 4) {
    EXPECT_LE(got.relative_error(), 1.3 * largest_relative_error) << "too noisy to prove anything";
    EXPECT_NEAR(got.value, want, std::max(sigmas * got.error, 5e-5 * want))
        << "error " << got.error << ", off by " << (got.value - want) / got.error << " standard errors";
}

}  // namespace rushlight::small
