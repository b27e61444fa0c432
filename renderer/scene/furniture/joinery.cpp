#include "scene/furniture/joinery.h"

#include "quantity/units.h"
#include "scene/furniture/furniture.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace rushlight {

namespace {

int longest_way(const Vec3& size) {
    return size.x >= size.y && size.x >= size.z ? 0 : size.y >= size.z ? 1 : 2;
}

}  // namespace

Joinery::Joinery(const Box& box)
    : width(box.size.x),
      depth(box.size.y),
      height(box.size.z),
      own(box.finish),
      foot_(box.centre - Vec3(0, 0, box.size.z / 2)),
      cosine_(static_cast<float>(std::cos(radians(Degree{box.turn})))),
      sine_(static_cast<float>(std::sin(radians(Degree{box.turn})))),
      lie_{foot_, static_cast<float>(radians(Degree{box.turn})), longest_way(box.size)},
      name_(box.name) {}

Vec3 Joinery::turned(const Vec3& v) const {
    return {v.x * cosine_ - v.y * sine_, v.x * sine_ + v.y * cosine_, v.z};
}

Vec3 Joinery::placed(const Vec3& p) const {
    return foot_ + turned(p);
}

Vec3 Joinery::kept_in(const Vec3& p) const {
    return {std::clamp(p.x, -width / 2, width / 2), std::clamp(p.y, -depth / 2, depth / 2),
            std::clamp(p.z, 0.0F, height)};
}

Mesh& Joinery::mesh(const Finish& finish, bool rounded) {
    for (Mesh& m : meshes_)
        if (m.finish.name == finish.name && m.normals.empty() != rounded) return m;
    Mesh& m = meshes_.emplace_back();
    m.name = name_;
    m.finish = finish;
    m.lie = lie_;
    return m;
}

void Joinery::leaf(const Finish& finish, const Vec3& a, const Vec3& b, const Vec3& c, const Vec3& d) {
    add_quad(mesh(finish, false), placed(kept_in(a)), placed(kept_in(b)), placed(kept_in(c)), placed(kept_in(d)));
}

void Joinery::block(const Finish& finish, const Vec3& least, const Vec3& most) {
    const Vec3 l = kept_in(least), m = kept_in(most);
    if (!(l.x < m.x && l.y < m.y && l.z < m.z)) return;
    leaf(finish, {l.x, l.y, l.z}, {m.x, l.y, l.z}, {m.x, m.y, l.z}, {l.x, m.y, l.z});
    leaf(finish, {l.x, l.y, m.z}, {m.x, l.y, m.z}, {m.x, m.y, m.z}, {l.x, m.y, m.z});
    leaf(finish, {l.x, l.y, l.z}, {m.x, l.y, l.z}, {m.x, l.y, m.z}, {l.x, l.y, m.z});
    leaf(finish, {l.x, m.y, l.z}, {m.x, m.y, l.z}, {m.x, m.y, m.z}, {l.x, m.y, m.z});
    leaf(finish, {l.x, l.y, l.z}, {l.x, m.y, l.z}, {l.x, m.y, m.z}, {l.x, l.y, m.z});
    leaf(finish, {m.x, l.y, l.z}, {m.x, m.y, l.z}, {m.x, m.y, m.z}, {m.x, l.y, m.z});
}

/// A cube's six sides as nets; each of their points is a point of the inner box and a way out from it.
void Joinery::cushion(const Finish& finish, const Vec3& lower, const Vec3& upper, float radius) {
    const Vec3 least = kept_in(lower), most = kept_in(upper);
    if (!(least.x < most.x && least.y < most.y && least.z < most.z)) return;
    const Vec3 half = (most - least) * 0.5F, middle = (most + least) * 0.5F;
    const float r = std::min({radius, half.x, half.y, half.z});
    const Vec3 inner = half - Vec3(r, r, r);
    // Places along an edge, by the angle of the way out: a corner in three steps, the flat between two of them in one.
    constexpr int steps = 4;
    std::array<float, 2 * (steps + 1)> angles{};
    for (int i = 0; i <= steps; ++i) {
        const float a = pi_f / 4 * static_cast<float>(i) / steps;
        angles[static_cast<std::size_t>(i)] = a - pi_f / 4;
        angles[static_cast<std::size_t>(steps + 1 + i)] = a;
    }
    const auto sign_of = [&](std::size_t i) { return i <= steps ? -1.0F : 1.0F; };
    Mesh& m = mesh(finish, true);
    for (int axis = 0; axis < 3; ++axis)
        for (const float side : {-1.0F, 1.0F}) {
            const auto first = static_cast<std::uint32_t>(m.positions.size());
            const int u = (axis + 1) % 3, v = (axis + 2) % 3;
            for (std::size_t i = 0; i < angles.size(); ++i)
                for (std::size_t k = 0; k < angles.size(); ++k) {
                    Vec3 way(0), at(0);
                    way[axis] = side, way[u] = std::tan(angles[i]), way[v] = std::tan(angles[k]);
                    way.normalize();
                    at[axis] = side * inner[axis], at[u] = sign_of(i) * inner[u], at[v] = sign_of(k) * inner[v];
                    m.positions.push_back(placed(middle + at + way * r));
                    m.normals.push_back(turned(way));
                }
            const auto count = static_cast<std::uint32_t>(angles.size());
            for (std::uint32_t i = 0; i + 1 < count; ++i)
                for (std::uint32_t k = 0; k + 1 < count; ++k) {
                    const std::uint32_t a = first + i * count + k, b = a + count, c = b + 1, d = a + 1;
                    if (side > 0) {
                        m.triangles.push_back({a, b, c});
                        m.triangles.push_back({a, c, d});
                    } else {
                        m.triangles.push_back({a, c, b});
                        m.triangles.push_back({a, d, c});
                    }
                }
        }
}

void Joinery::post(const Finish& finish, const Vec3& foot, float length, float radius, float radius_at_end,
                   bool lying) {
    constexpr std::uint32_t sides = 20;
    const float room = lying ? std::min(depth / 2 - std::abs(foot.y), std::min(foot.z, height - foot.z))
                             : std::min(width / 2 - std::abs(foot.x), depth / 2 - std::abs(foot.y));
    const float r0 = std::min(radius, room), r1 = std::min(radius_at_end, room);
    if (!(r0 > 0 && r1 > 0 && length > 0)) return;
    Mesh& m = mesh(finish, true);
    const auto way = [&](float x, float y, float z) { return lying ? Vec3(z, x, y) : Vec3(x, y, z); };
    const auto first = static_cast<std::uint32_t>(m.positions.size());
    const float lean = (r0 - r1) / length;
    for (std::uint32_t i = 0; i < sides; ++i) {
        const float a = 2 * pi_f * static_cast<float>(i) / sides, c = std::cos(a), s = std::sin(a);
        for (const bool end : {false, true}) {
            const float r = end ? r1 : r0, z = end ? length : 0;
            m.positions.push_back(placed(foot + way(c * r, s * r, z)));
            m.normals.push_back(turned(way(c, s, lean)).normalized());
            m.positions.push_back(placed(foot + way(c * r, s * r, z)));  // the same corner, of the cap
            m.normals.push_back(turned(way(0, 0, end ? 1.0F : -1.0F)));
        }
    }
    for (std::uint32_t i = 0; i < sides; ++i) {
        const std::uint32_t a = first + 4 * i, b = first + 4 * ((i + 1) % sides);
        m.triangles.push_back({a, b, b + 2});
        m.triangles.push_back({a, b + 2, a + 2});
        if (i == 0 || i + 1 == sides) continue;
        m.triangles.push_back({first + 1, b + 1, a + 1});
        m.triangles.push_back({first + 3, a + 3, b + 3});
    }
}

void Joinery::legs(float high, float thick, float inset) {
    const float x = width / 2 - inset, y = depth / 2 - inset;
    for (const float sx : {-1.0F, 1.0F})
        for (const float sy : {-1.0F, 1.0F}) {
            const float x0 = sx < 0 ? -x : x - thick, y0 = sy < 0 ? -y : y - thick;
            block({x0, y0, 0}, {x0 + thick, y0 + thick, high});
        }
}

Mesh box_mesh(const Box& box) {
    const auto turn = static_cast<float>(radians(Degree{box.turn}));
    const Vec3 x = Vec3(std::cos(turn), std::sin(turn), 0) * (box.size.x / 2);
    const Vec3 y = Vec3(-std::sin(turn), std::cos(turn), 0) * (box.size.y / 2);
    const Vec3 z(0, 0, box.size.z / 2);
    const Vec3& c = box.centre;
    Mesh m;
    m.name = box.name;
    m.finish = box.finish;
    m.lie = {c - box.size * 0.5F, turn, longest_way(box.size)};
    for (const float s : {-1.0F, 1.0F}) {
        add_quad(m, c + x * s - y - z, c + x * s + y - z, c + x * s + y + z, c + x * s - y + z);
        add_quad(m, c + y * s - x - z, c + y * s + x - z, c + y * s + x + z, c + y * s - x + z);
        add_quad(m, c + z * s - x - y, c + z * s + x - y, c + z * s + x + y, c + z * s - x + y);
    }
    return m;
}

std::vector<Mesh> furniture_meshes(const Box& box) {
    if (box.shape == FurnitureShape::box) return {box_mesh(box)};
    Joinery j(box);
    switch (box.shape) {
        case FurnitureShape::table:
            make_table(j);
            break;
        case FurnitureShape::stool:
            make_stool(j);
            break;
        case FurnitureShape::chair:
            make_chair(j);
            break;
        case FurnitureShape::sofa:
            make_sofa(j);
            break;
        case FurnitureShape::bed:
            make_bed(j);
            break;
        case FurnitureShape::shelf:
            make_shelf(j);
            break;
        case FurnitureShape::drawers:
            make_drawers(j);
            break;
        case FurnitureShape::counter:
            make_counter(j);
            break;
        case FurnitureShape::lamp_foot:
            make_lamp_foot(j);
            break;
        case FurnitureShape::tree:
            make_tree(j);
            break;
        case FurnitureShape::car:
            make_car(j);
            break;
        case FurnitureShape::house:
            make_house_front(j);
            break;
        case FurnitureShape::box:
            break;
    }
    return std::move(j).meshes();
}

}  // namespace rushlight
