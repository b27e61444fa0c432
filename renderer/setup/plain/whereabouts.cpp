#include "setup/plain/whereabouts.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

bool between(float v, double low, double high) {
    return v >= low && v <= high;
}

/// Within the rectangle of the opening, seen along the normal of its wall.
bool over_hole(const Opening& o, const Vec3& p) {
    switch (o.wall) {
        case Wall::near:
        case Wall::far:
            return between(p.x, o.from, o.to) && between(p.z, o.sill, o.head);
        case Wall::left:
        case Wall::right:
            return between(p.y, o.from, o.to) && between(p.z, o.sill, o.head);
        case Wall::floor:
        case Wall::ceiling:
            break;
    }
    return between(p.x, o.from, o.to) && between(p.y, o.sill, o.head);
}

/// Nothing stands within it: not so under a table, or in the crown of a tree.
bool is_closed(FurnitureShape shape) {
    switch (shape) {
        case FurnitureShape::box:
        case FurnitureShape::bed:
        case FurnitureShape::drawers:
        case FurnitureShape::counter:
        case FurnitureShape::house:
            return true;
        case FurnitureShape::table:
        case FurnitureShape::stool:
        case FurnitureShape::chair:
        case FurnitureShape::sofa:
        case FurnitureShape::shelf:
        case FurnitureShape::lamp_foot:
        case FurnitureShape::tree:
        case FurnitureShape::car:
            break;
    }
    return false;
}

}  // namespace

bool inside(const Place& place, const Vec3& p) {
    return between(p.x, place.lower.x, place.upper.x) && between(p.y, place.lower.y, place.upper.y) &&
           between(p.z, place.lower.z, place.upper.z);
}

bool in_wall(const Place& place, const Vec3& p) {
    if (!place.has_room || inside(place, p)) return false;
    const double t = place.room.wall_thickness;
    if (!between(p.x, -t, place.room.width + t) || !between(p.y, -t, place.room.depth + t) ||
        !between(p.z, -t, place.room.height + t))
        return false;
    return std::none_of(place.room.openings.begin(), place.room.openings.end(), [&](const Opening& o) {
        return over_hole(o, p) && hole_of(place.room, o).out.dot(p - hole_of(place.room, o).centre) >= 0;
    });
}

Vec3 seen_from(const Box& b, const Vec3& p) {
    const double a = -radians(Degree{b.turn}), c = std::cos(a), s = std::sin(a);
    const Vec3 d = p - b.centre;
    const auto x = static_cast<double>(d.x), y = static_cast<double>(d.y);
    return {static_cast<float>(x * c - y * s), static_cast<float>(x * s + y * c), d.z};
}

const Box* box_around(const Place& place, const Vec3& p) {
    for (const Box& b : place.boxes) {
        if (!is_closed(b.shape)) continue;
        const Vec3 d = seen_from(b, p);
        if (std::abs(d.x) < b.size.x / 2 && std::abs(d.y) < b.size.y / 2 && std::abs(d.z) < b.size.z / 2) return &b;
    }
    return nullptr;
}

Hole hole_of(const Room& room, const Opening& o) {
    const auto along = static_cast<float>((o.from + o.to) / 2), up = static_cast<float>((o.sill + o.head) / 2);
    switch (o.wall) {
        case Wall::near:
            return {{along, 0, up}, {0, -1, 0}};
        case Wall::far:
            return {{along, static_cast<float>(room.depth), up}, {0, 1, 0}};
        case Wall::left:
            return {{0, along, up}, {-1, 0, 0}};
        case Wall::right:
            return {{static_cast<float>(room.width), along, up}, {1, 0, 0}};
        case Wall::floor:
            return {{along, up, 0}, {0, 0, -1}};
        case Wall::ceiling:
            break;
    }
    return {{along, up, static_cast<float>(room.height)}, {0, 0, 1}};
}

const Box* box_under(const Place& place, const Vec3& p) {
    constexpr float knee = 0.4F, comes_from_the_floor = 0.6F;  // m: a table has legs
    const Box* highest = nullptr;
    for (const Box& b : place.boxes) {
        const Vec3 d = seen_from(b, p);
        const float top = b.centre.z + b.size.z / 2, foot = b.centre.z - b.size.z / 2;
        const bool over = std::abs(d.x) < b.size.x / 2 && std::abs(d.y) < b.size.y / 2 && top < p.z;
        const float floor = place.lower.z;
        const bool in_the_way = top - floor > knee && (foot - floor < comes_from_the_floor || b.size.z < 0.2F);
        if (over && in_the_way && (!highest || top > highest->centre.z + highest->size.z / 2)) highest = &b;
    }
    return highest;
}

}  // namespace rushlight
