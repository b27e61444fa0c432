#include "scene/figure/jacket.h"

#include <array>
#include <vector>

namespace rushlight {

namespace {

// A jacket buttoned under the breastbone, from memory: its edges leave the neck 62 mm from the middle.
constexpr float half_width = 62, top = 12, point = -305;
constexpr float thickness = 5;  // of lapel and lining: how far the shirt lies under the edge
constexpr float behind = -35;   // x: the nape stays covered

struct Corner {
    Vec3 at, normal;
};
using Polygon = std::vector<Corner>;

/// Positive inside.
float inside(int plane, const Vec3& p) {
    const float reach = half_width * (p.z - point) / (top - point);
    return plane == 0 ? reach - p.y : plane == 1 ? reach + p.y : p.x - behind;
}

Corner between(const Corner& a, const Corner& b, float t) {
    return {a.at + (b.at - a.at) * t, (a.normal + (b.normal - a.normal) * t).normalized()};
}

/// A convex polygon in two along a plane; where it is cut, `cut` gets the line.
void split(const Polygon& whole, int plane, Polygon& in, Polygon& out, std::vector<Corner>& cut) {
    for (std::size_t i = 0; i < whole.size(); ++i) {
        const Corner &a = whole[i], &b = whole[(i + 1) % whole.size()];
        const float da = inside(plane, a.at), db = inside(plane, b.at);
        (da >= 0 ? in : out).push_back(a);
        if ((da >= 0) == (db >= 0)) continue;
        const Corner c = between(a, b, da / (da - db));
        in.push_back(c);
        out.push_back(c);
        cut.push_back(c);
    }
}

void add(Mesh& m, const Polygon& p) {
    if (p.size() < 3) return;
    const auto first = static_cast<std::uint32_t>(m.positions.size());
    for (const Corner& c : p) {
        m.positions.push_back(c.at);
        m.normals.push_back(c.normal);
    }
    for (std::uint32_t i = 1; i + 1 < p.size(); ++i) m.triangles.push_back({first, first + i, first + i + 1});
}

/// The line of a cut as far as it lies inside the other planes.
bool clipped(Corner& a, Corner& b, int cut_by) {
    for (int plane = 0; plane < 3; ++plane) {
        if (plane == cut_by) continue;
        const float da = inside(plane, a.at), db = inside(plane, b.at);
        if (da < 0 && db < 0) return false;
        if (da < 0) a = between(a, b, da / (da - db));
        if (db < 0) b = between(a, b, da / (da - db));
    }
    return true;
}

}  // namespace

bool within_the_v(const Vec3& p) {
    return inside(0, p) >= 0 && inside(1, p) >= 0 && inside(2, p) >= 0;
}

OpenJacket cut_open(const Mesh& clothes) {
    OpenJacket made;
    made.jacket.name = clothes.name;
    made.shirt.name = "shirt";
    made.edge.name = "edge of the jacket";
    for (const auto& t : clothes.triangles) {
        Polygon left;
        for (const std::uint32_t c : t) left.push_back({clothes.positions[c], clothes.normals[c]});
        for (int plane = 0; plane < 3 && left.size() >= 3; ++plane) {
            Polygon in, out;
            std::vector<Corner> cut;
            split(left, plane, in, out, cut);
            add(made.jacket, out);
            left = std::move(in);
            if (cut.size() != 2 || !clipped(cut[0], cut[1], plane)) continue;
            const auto under = [](const Corner& c) { return c.at - c.normal * thickness; };
            add_quad(made.edge, cut[0].at, cut[1].at, under(cut[1]), under(cut[0]));
        }
        for (Corner& c : left) c.at -= c.normal * thickness;
        add(made.shirt, left);
    }
    return made;
}

}  // namespace rushlight
