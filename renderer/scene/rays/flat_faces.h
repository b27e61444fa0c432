// The flat faces of a mesh, each with the rectangle that holds it: of what mirrors, to be aimed at by place, and to
// find the images of lights in it.
#pragma once

#include "scene/rays/mesh.h"
#include "scene/rays/rectangle.h"

#include <cstdint>
#include <vector>

namespace rushlight {

struct FlatFace {
    Rectangle rectangle;
    std::uint32_t part = 0;
    bool whole = true;  // it fills its rectangle

    /// Signed height over its plane, m.
    float height(const Vec3& p) const { return rectangle.normal.dot(p - rectangle.centre); }
    Vec3 image(const Vec3& p) const { return p - rectangle.normal * (2.0F * height(p)); }
    Vec3 mirrored(const Vec3& direction) const {
        return direction - rectangle.normal * (2.0F * rectangle.normal.dot(direction));
    }
    /// Whether a point of its part, where the part's normal is `normal`, lies in its plane.
    bool holds(const Vec3& p, const Vec3& normal) const;
};

/// The faces of a mesh that has few of them; of a curved or fine one, none.
std::vector<FlatFace> flat_faces(const Mesh& mesh, std::uint32_t part);

}  // namespace rushlight
