#include "scene/rays/flat_faces.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

// What has more faces is as good as curved: every face would be asked at every step of a walk.
constexpr std::size_t most_faces = 24;
constexpr float same_direction = 1.0F - 1e-6F;

float slack_at(const Vec3& p) {
    return 2e-5F * std::max({1.0F, std::abs(p.x), std::abs(p.y), std::abs(p.z)});
}

struct Plane {
    Vec3 point, normal;
    std::vector<Vec3> corners;
    float area = 0;
    std::vector<Vec3> edges;
};

Rectangle around(const Plane& plane, const Vec3& along) {
    Rectangle r;
    r.normal = plane.normal;
    r.across = (along - plane.normal * plane.normal.dot(along)).normalized();
    r.up = r.normal.cross(r.across);
    float low_a = INFINITY, high_a = -INFINITY, low_u = INFINITY, high_u = -INFINITY;
    for (const Vec3& c : plane.corners) {
        const Vec3 d = c - plane.point;
        low_a = std::min(low_a, d.dot(r.across));
        high_a = std::max(high_a, d.dot(r.across));
        low_u = std::min(low_u, d.dot(r.up));
        high_u = std::max(high_u, d.dot(r.up));
    }
    r.centre = plane.point + r.across * ((low_a + high_a) / 2) + r.up * ((low_u + high_u) / 2);
    r.half_width = (high_a - low_a) / 2;
    r.half_height = (high_u - low_u) / 2;
    return r;
}

}  // namespace

bool FlatFace::holds(const Vec3& p, const Vec3& normal) const {
    return std::abs(rectangle.normal.dot(normal)) > 1.0F - 1e-4F && std::abs(height(p)) < 10.0F * slack_at(p);
}

std::vector<FlatFace> flat_faces(const Mesh& mesh, std::uint32_t part) {
    std::vector<Plane> planes;
    if (!mesh.normals.empty()) return {};
    for (const auto& t : mesh.triangles) {
        const Vec3 a = mesh.positions[t[0]], b = mesh.positions[t[1]], c = mesh.positions[t[2]];
        const Vec3 across = (b - a).cross(c - a);
        const float twice = across.length();
        if (!(twice > 1e-9F)) continue;
        const Vec3 normal = across / twice;
        const auto home = std::find_if(planes.begin(), planes.end(), [&](const Plane& p) {
            return std::abs(p.normal.dot(normal)) > same_direction && std::abs(p.normal.dot(a - p.point)) < slack_at(a);
        });
        Plane& plane = home != planes.end() ? *home : planes.emplace_back(Plane{a, normal, {}, 0, {}});
        if (planes.size() > most_faces) return {};
        plane.corners.insert(plane.corners.end(), {a, b, c});
        plane.area += twice / 2;
        if (plane.edges.empty()) plane.edges = {b - a, c - b, a - c};
    }
    std::vector<FlatFace> faces;
    for (const Plane& plane : planes) {
        Rectangle least = around(plane, plane.edges.front());
        for (const Vec3& edge : plane.edges) {
            const Rectangle r = around(plane, edge);
            if (r.area() < least.area() * 0.9999F) least = r;
        }
        if (!(least.area() > 0)) continue;
        faces.push_back({least, part, plane.area > 0.999F * least.area()});
    }
    return faces;
}

}  // namespace rushlight
