// Triangles with one finish: what every builder hands to the ray-tracing scene.
#pragma once

#include "quantity/space.h"
#include "scene/rays/placement.h"
#include "scene/surface/pattern.h"
#include "setup/plain/finish.h"

#include <array>
#include <cstdint>
#include <memory>
#include <string>
#include <vector>

namespace rushlight {

struct Mesh {
    std::string name;
    std::vector<Vec3> positions;
    std::vector<std::array<std::uint32_t, 3>> triangles;
    /// Unit, one a corner, to shade with in place of the triangles' own; none: the faces are meant to be flat. A mesh
    /// that has them is closed, or is never seen from within, and is wound to face outwards.
    std::vector<Vec3> normals = {};
    Finish finish;
    PatternLie lie = {};  // of the finish's pattern
};

/// A mesh that was made once, in a frame of its own, and stands in the place with a finish of its own.
struct PlacedMesh {
    std::shared_ptr<const Mesh> made;
    Placement at;
    Finish finish;
};
/// The same with its corners in the place.
Mesh in_place(const PlacedMesh& placed);

/// Gives the mesh the normals of the rounded body that it stands for: at each corner the mean of the triangles that
/// meet there, by their angle (Thuermer and Wuethrich, Journal of Graphics Tools 3(1), 1998).
void round_over(Mesh& m);

/// A flat four-sided face as two triangles; its corners in turn.
inline void add_quad(Mesh& m, const Vec3& a, const Vec3& b, const Vec3& c, const Vec3& d) {
    const auto first = static_cast<std::uint32_t>(m.positions.size());
    m.positions.insert(m.positions.end(), {a, b, c, d});
    m.triangles.push_back({first, first + 1, first + 2});
    m.triangles.push_back({first, first + 2, first + 3});
}

}  // namespace rushlight
