// A figure as it stands on its mark, for tests that look at its corners.
#pragma once

#include "quantity/colour.h"
#include "scene/figure/stand_in.h"
#include "scene/scene.h"
#include "setup/plain/face.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <vector>

namespace rushlight::standing {

inline Mark mark_for(double height, Pose pose = Pose::standing, double seat = 0.45) {
    Mark m;
    m.name = "A";
    m.person.height = height;
    m.person.pose = pose;
    m.person.seat = seat;
    return m;
}

/// A figure with its corners and fibres where they stand.
struct Standing : Figure {
    std::vector<Mesh> skin, wardrobe, eyes;
    std::vector<Fibres> hair;

    explicit Standing(const Mark& mark) : Figure(stand_in(mark)) {
        for (const PlacedMesh& m : Figure::skin) skin.push_back(in_place(m));
        for (const PlacedMesh& m : Figure::wardrobe) wardrobe.push_back(in_place(m));
        for (const PlacedMesh& m : Figure::eyes) eyes.push_back(in_place(m));
        for (const PlacedFibres& f : Figure::hair) {
            hair.push_back(*f.made);
            for (Vec3& p : hair.back().points) p = f.at(p);
        }
    }
};

inline std::vector<const Mesh*> meshes_of(const Standing& f) {
    std::vector<const Mesh*> all;
    for (const auto* group : {&f.skin, &f.wardrobe, &f.eyes})
        for (const Mesh& m : *group) all.push_back(&m);
    return all;
}

struct Extent {
    Vec3 low{1e9F}, high{-1e9F};
    void add(const Mesh& m) {
        for (const Vec3& p : m.positions)
            for (int i = 0; i < 3; ++i) {
                low[i] = std::min(low[i], p[i]);
                high[i] = std::max(high[i], p[i]);
            }
    }
};

inline double distance_to_triangle(const Imath::V3d& p, const Imath::V3d& a, const Imath::V3d& b, const Imath::V3d& c) {
    const Imath::V3d n = (b - a).cross(c - a);
    const auto outside = [&](const Imath::V3d& u, const Imath::V3d& v) { return (v - u).cross(p - u).dot(n) < 0; };
    if (!outside(a, b) && !outside(b, c) && !outside(c, a)) return std::abs((p - a).dot(n)) / n.length();
    const auto to_edge = [&](const Imath::V3d& u, const Imath::V3d& v) {
        const double t = std::clamp((p - u).dot(v - u) / (v - u).length2(), 0.0, 1.0);
        return (u + (v - u) * t - p).length();
    };
    return std::min({to_edge(a, b), to_edge(b, c), to_edge(c, a)});
}

inline double distance_to(const Mesh& m, const Vec3& p) {
    double least = 1e9;
    for (const auto& t : m.triangles)
        least = std::min(least, distance_to_triangle(Imath::V3d(p), Imath::V3d(m.positions[t[0]]),
                                                     Imath::V3d(m.positions[t[1]]), Imath::V3d(m.positions[t[2]])));
    return least;
}

inline double degrees_between(const Vec3& a, const Vec3& b) {
    return std::acos(std::clamp(static_cast<double>(a.dot(b)), -1.0, 1.0)) * 180 / pi;
}

}  // namespace rushlight::standing
