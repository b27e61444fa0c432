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

/// A point of the hole, `u` and `v` from 0 to 1, at the outer face of the wall.
Vec3 point_of(const Room& room, const Opening& o, double u, double v) {
    const Hole hole = hole_of(room, o);
    const auto along = static_cast<float>((u - 0.5) * (o.to - o.from)),
               up = static_cast<float>((v - 0.5) * (o.head - o.sill));
    Vec3 p = hole.centre + hole.out * static_cast<float>(room.wall_thickness);
    const bool side = o.wall == Wall::left || o.wall == Wall::right;
    const bool flat = o.wall == Wall::floor || o.wall == Wall::ceiling;
    (side ? p.y : p.x) += along;
    (flat ? p.y : p.z) += up;
    return p;
}

/// In the box's own frame: its middle is the origin, its sides are along the axes.
Vec3 seen_from(const Box& b, const Vec3& p) {
    const double a = -radians(Degree{b.turn}), c = std::cos(a), s = std::sin(a);
    const Vec3 d = p - b.centre;
    const auto x = static_cast<double>(d.x), y = static_cast<double>(d.y);
    return {static_cast<float>(x * c - y * s), static_cast<float>(x * s + y * c), d.z};
}

/// Whether the way from `p` to `q` leads through the box, by its three slabs.
bool between(const Box& b, const Vec3& p, const Vec3& q) {
    const Vec3 from = seen_from(b, p), way = seen_from(b, q) - from;
    double enter = 0, leave = 1;
    for (int axis = 0; axis < 3; ++axis) {
        const auto o = static_cast<double>(axis == 0 ? from.x : axis == 1 ? from.y : from.z);
        const auto d = static_cast<double>(axis == 0 ? way.x : axis == 1 ? way.y : way.z);
        const double half = static_cast<double>(axis == 0 ? b.size.x : axis == 1 ? b.size.y : b.size.z) / 2;
        if (std::abs(d) < 1e-9) {
            if (std::abs(o) > half) return false;
            continue;
        }
        const double a = (-half - o) / d, z = (half - o) / d;
        enter = std::max(enter, std::min(a, z));
        leave = std::min(leave, std::max(a, z));
    }
    return enter < leave;
}

/// As far as any point of the hole, at the outer face of the wall, lies from its middle.
float half_diagonal(const Room& room, const Opening& o) {
    return static_cast<float>(std::hypot(o.to - o.from, o.head - o.sill) / 2 + room.wall_thickness);
}

/// Those whose bounding sphere comes within `reach` of the way from `p` to `q`: no other can stand in a beam between.
std::vector<const Box*> near_the_way(const std::vector<const Box*>& boxes, const Vec3& p, const Vec3& q, float reach) {
    std::vector<const Box*> near;
    const Vec3 way = q - p;
    const float squared = std::max(way.length2(), 1e-12F);
    for (const Box* b : boxes) {
        const float along = std::clamp((b->centre - p).dot(way) / squared, 0.0F, 1.0F);
        if ((b->centre - p - way * along).length() <= 1.001F * (reach + b->size.length() / 2)) near.push_back(b);
    }
    return near;
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

const Box* box_around(const Place& place, const Vec3& p) {
    for (const Box& b : place.boxes) {
        if (!is_closed(b.shape)) continue;
        const double a = -radians(Degree{b.turn});
        const Vec3 d = p - b.centre;
        const double x = d.x * std::cos(a) - d.y * std::sin(a), y = d.x * std::sin(a) + d.y * std::cos(a);
        if (std::abs(x) < b.size.x / 2 && std::abs(y) < b.size.y / 2 && std::abs(d.z) < b.size.z / 2) return &b;
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

std::vector<Inlet> inlets(const Place& place, const Vec3& p, const Vec3& aim, double half_angle) {
    constexpr int across = 16;  // points of a hole each way
    std::vector<Inlet> all;
    if (!place.has_room) return all;
    const double least = std::cos(radians(Degree{half_angle}));
    // Light finds its way through a tree, or what has gaps as one; and a lamp is not in the way of itself.
    const Box* const around = box_around(place, p);
    std::vector<const Box*> solid;
    for (const Box& b : place.boxes)
        if (b.shape != FurnitureShape::tree && b.finish.straight.dark() && &b != around) solid.push_back(&b);
    for (const Opening& o : place.room.openings) {
        const Hole hole = hole_of(place.room, o);
        if (hole.out.dot(p - hole.centre) <= 0) continue;
        Inlet inlet{&o, 0, ""};
        int met = 0, clear = 0;
        const std::vector<const Box*> near = near_the_way(solid, p, hole.centre, half_diagonal(place.room, o));
        for (int i = 0; i < across * across; ++i) {
            const Vec3 to = point_of(place.room, o, (i % across + 0.5) / across, (i / across + 0.5) / across);
            if (static_cast<double>(aim.dot((to - p).normalized())) < least) continue;
            ++met;
            const auto in_the_way =
                std::find_if(near.begin(), near.end(), [&](const Box* b) { return between(*b, p, to); });
            if (in_the_way == near.end())
                ++clear;
            else
                inlet.blocked_by = (*in_the_way)->name;
        }
        inlet.share = static_cast<double>(clear) / (across * across);
        if (met > 0) all.push_back(inlet);
    }
    return all;
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
