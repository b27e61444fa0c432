#include "scene/room.h"

#include "quantity/units.h"
#include "scene/surface/surface.h"
#include "setup/plain/catalogues.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

constexpr float past_corner = 0.01F;

/// A wall's own axes: along it, up it, and out of the room; both running as the file measures openings.
struct WallFrame {
    Vec3 corner, along, up, out;
    float length, height;
    Vec3 at(float a, float u, float o = 0) const { return corner + along * a + up * u + out * o; }
};

WallFrame frame_of(const Room& room, Wall wall) {
    const auto w = static_cast<float>(room.width);
    const auto d = static_cast<float>(room.depth);
    const auto h = static_cast<float>(room.height);
    switch (wall) {
        case Wall::near:
            return {{0, 0, 0}, {1, 0, 0}, {0, 0, 1}, {0, -1, 0}, w, h};
        case Wall::far:
            return {{0, d, 0}, {1, 0, 0}, {0, 0, 1}, {0, 1, 0}, w, h};
        case Wall::left:
            return {{0, 0, 0}, {0, 1, 0}, {0, 0, 1}, {-1, 0, 0}, d, h};
        case Wall::right:
            return {{w, 0, 0}, {0, 1, 0}, {0, 0, 1}, {1, 0, 0}, d, h};
        case Wall::floor:
            return {{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, -1}, w, d};
        case Wall::ceiling:
            return {{0, 0, h}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}, w, d};
    }
    return {};
}

std::vector<float> cuts(float low, float high, std::vector<float> between) {
    between.push_back(low);
    between.push_back(high);
    std::sort(between.begin(), between.end());
    between.erase(std::unique(between.begin(), between.end()), between.end());
    return between;
}

}  // namespace

Mesh wall_mesh(const Room& room, Wall wall) {
    const WallFrame f = frame_of(room, wall);
    std::vector<const Opening*> holes;
    std::vector<float> across;
    std::vector<float> upward;
    for (const Opening& o : room.openings)
        if (o.wall == wall) {
            holes.push_back(&o);
            across.insert(across.end(), {static_cast<float>(o.from), static_cast<float>(o.to)});
            upward.insert(upward.end(), {static_cast<float>(o.sill), static_cast<float>(o.head)});
        }
    across = cuts(-past_corner, f.length + past_corner, across);
    upward = cuts(-past_corner, f.height + past_corner, upward);

    // A grid of cells cut along every edge of every hole; cells in holes are left out.
    Mesh m;
    m.finish = room.finish[static_cast<std::size_t>(wall)];
    // Boards lie along a room, not across it.
    if ((wall == Wall::floor || wall == Wall::ceiling) && room.depth > room.width) m.lie.along = 1;
    for (std::size_t i = 0; i + 1 < across.size(); ++i)
        for (std::size_t j = 0; j + 1 < upward.size(); ++j) {
            const float a = (across[i] + across[i + 1]) / 2;
            const float u = (upward[j] + upward[j + 1]) / 2;
            const bool open = std::any_of(holes.begin(), holes.end(), [&](const Opening* o) {
                return a > o->from && a < o->to && u > o->sill && u < o->head;
            });
            if (!open)
                add_quad(m, f.at(across[i], upward[j]), f.at(across[i + 1], upward[j]),
                         f.at(across[i + 1], upward[j + 1]), f.at(across[i], upward[j + 1]));
        }
    return m;
}

Mesh reveal_mesh(const Room& room, const Opening& o) {
    const WallFrame f = frame_of(room, o.wall);
    const auto from = static_cast<float>(o.from), to = static_cast<float>(o.to);
    const auto sill = static_cast<float>(o.sill), head = static_cast<float>(o.head);
    // To the glass and no further: what sticks out past it would shade the window.
    const auto deep = static_cast<float>(room.wall_thickness);
    Mesh m;
    m.finish = room.finish[static_cast<std::size_t>(o.wall)];
    add_quad(m, f.at(from, sill), f.at(to, sill), f.at(to, sill, deep), f.at(from, sill, deep));
    add_quad(m, f.at(from, head), f.at(to, head), f.at(to, head, deep), f.at(from, head, deep));
    add_quad(m, f.at(from, sill), f.at(from, head), f.at(from, head, deep), f.at(from, sill, deep));
    add_quad(m, f.at(to, sill), f.at(to, head), f.at(to, head, deep), f.at(to, sill, deep));
    return m;
}

Rectangle opening_rectangle(const Room& room, const Opening& o) {
    const WallFrame f = frame_of(room, o.wall);
    Rectangle r;
    r.centre = f.at(static_cast<float>(o.from + o.to) / 2, static_cast<float>(o.sill + o.head) / 2,
                    static_cast<float>(room.wall_thickness));
    r.normal = -f.out;
    r.up = f.up;
    r.across = r.up.cross(r.normal);
    r.half_width = static_cast<float>(o.to - o.from) / 2;
    r.half_height = static_cast<float>(o.head - o.sill) / 2;
    return r;
}

std::optional<Finish> glass_of(bool glazed, double glass, double bars, double nd_density) {
    const double passes = (1.0 - bars) * std::pow(10.0, -nd_density);
    Finish f;
    f.name = "glass";
    f.reflectance = Spectrum{0.0F};
    if (glazed) {
        f.pane = true;
        // What plain glass cannot pass is coated.
        const auto straight_on = static_cast<float>(glass);
        if (straight_on > lossless_pane_passes(f.pane_index)) f.pane_index = index_of_lossless_pane(straight_on);
        f.pane_transmittance = pane_transmittance_for(static_cast<float>(glass * passes), f.pane_index);
        return f;
    }
    if (passes >= 1.0) return std::nullopt;
    f.straight = Spectrum{static_cast<float>(passes)};
    return f;
}

Mesh blind_mesh(const Room& room, const Opening& o, const Blind& blind) {
    constexpr double off_the_glass = 0.01, least_slats = 1;
    const Rectangle hole = opening_rectangle(room, o);
    const Vec3 into = hole.normal;
    const Vec3 along = blind.upright ? hole.up : hole.across;  // a slat's length
    const Vec3 next = blind.upright ? hole.across : -hole.up;  // from one slat to the next
    const float length = blind.upright ? hole.half_height : hole.half_width;
    const double reach = 2.0 * static_cast<double>(blind.upright ? hole.half_width : hole.half_height);
    const double drawn = reach * blind.drawn;
    const auto depth = static_cast<float>(blind.slat / 2 + off_the_glass);
    const auto tilt = static_cast<float>(radians(Degree{blind.tilt}));
    // Tilted up, the outer edge is the higher one: light from the sky is turned away.
    const Vec3 half = (into * std::cos(tilt) + next * std::sin(tilt)) * static_cast<float>(blind.slat / 2);
    const Vec3 first = hole.centre + into * depth - next * static_cast<float>(reach / 2);
    Mesh m;
    m.finish = blind.finish;
    const int slats = static_cast<int>(std::max(least_slats, std::floor(drawn / blind.pitch)));
    for (int i = 0; i < slats; ++i) {
        const Vec3 c = first + next * static_cast<float>((i + 0.5) * blind.pitch);
        const Vec3 side = along * length;
        add_quad(m, c - side - half, c + side - half, c + side + half, c - side + half);
    }
    return m;
}

Mesh rectangle_mesh(const Rectangle& r, const Finish& finish) {
    Mesh m;
    m.finish = finish;
    add_quad(m, r.at(0, 0), r.at(1, 0), r.at(1, 1), r.at(0, 1));
    return m;
}

std::vector<Rectangle> rectangles_of(const OpeningPatch& patch, const Vec3& inside) {
    constexpr float same_direction = 0.99F;  // 8 degrees: a scanned window is a little bent
    constexpr float same_plane = 0.10F;      // m
    struct Plane {
        Vec3 point, normal;
        std::vector<Vec3> corners;
    };
    std::vector<Plane> planes;
    for (const auto& t : patch.triangles) {
        Vec3 n = (t[1] - t[0]).cross(t[2] - t[0]);
        if (n.length2() < 1e-12F) continue;
        n.normalize();
        if (n.dot(inside - t[0]) < 0) n = -n;
        // Windows side by side in one wall stay apart: only triangles that nearly touch are one opening.
        Plane* home = nullptr;
        for (Plane& p : planes) {
            if (p.normal.dot(n) < same_direction || std::abs(p.normal.dot(t[0] - p.point)) > same_plane) continue;
            for (const Vec3& c : p.corners)
                for (const Vec3& mine : t)
                    if ((c - mine).length2() < same_plane * same_plane) home = &p;
        }
        if (home == nullptr) home = &planes.emplace_back(Plane{t[0], n, {}});
        home->corners.insert(home->corners.end(), t.begin(), t.end());
    }
    std::vector<Rectangle> rectangles;
    for (const Plane& p : planes) {
        Rectangle r = facing_level(p.normal);
        float low_a = 1e30F, high_a = -1e30F, low_u = 1e30F, high_u = -1e30F, out = 1e30F;
        for (const Vec3& c : p.corners) {
            low_a = std::min(low_a, c.dot(r.across));
            high_a = std::max(high_a, c.dot(r.across));
            low_u = std::min(low_u, c.dot(r.up));
            high_u = std::max(high_u, c.dot(r.up));
            out = std::min(out, c.dot(r.normal));
        }
        r.centre = r.across * ((low_a + high_a) / 2) + r.up * ((low_u + high_u) / 2) + r.normal * out;
        r.half_width = (high_a - low_a) / 2;
        r.half_height = (high_u - low_u) / 2;
        rectangles.push_back(r);
    }
    return rectangles;
}

}  // namespace rushlight
