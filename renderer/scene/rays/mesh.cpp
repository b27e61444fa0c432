#include "scene/rays/mesh.h"

#include <cmath>

namespace rushlight {

void round_over(Mesh& m) {
    m.normals.assign(m.positions.size(), Vec3(0));
    for (const auto& t : m.triangles) {
        const Vec3 across = (m.positions[t[1]] - m.positions[t[0]]).cross(m.positions[t[2]] - m.positions[t[0]]);
        const float twice_area = across.length();
        if (!(twice_area > 0)) continue;
        for (std::size_t c = 0; c < 3; ++c) {
            const Vec3 one = m.positions[t[(c + 1) % 3]] - m.positions[t[c]];
            const Vec3 other = m.positions[t[(c + 2) % 3]] - m.positions[t[c]];
            const float angle = std::atan2(twice_area, one.dot(other));
            m.normals[t[c]] += across * (angle / twice_area);
        }
    }
    for (Vec3& n : m.normals) n = n.length2() > 0 ? n.normalized() : Vec3(0, 0, 1);
}

Mesh in_place(const PlacedMesh& placed) {
    Mesh m = *placed.made;
    for (Vec3& p : m.positions) p = placed.at(p);
    for (Vec3& n : m.normals) n = placed.at.turned(n);
    m.finish = placed.finish;
    return m;
}

}  // namespace rushlight
