#include "setup/advice/inlets.h"

#include "setup/plain/whereabouts.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <optional>
#include <utility>

namespace rushlight {

namespace {

constexpr int across = 16;                   // points of a hole each way
constexpr std::size_t most_of_model = 1024;  // points of all holes of a rough model together
constexpr double at_the_hole = 0.05;         // m in front of it: a scanned pane is a little bent

/// What hangs in an opening and takes the beam before the room has it.
std::string hung(const std::optional<Finish>& curtain, const std::optional<Blind>& blind) {
    constexpr double all_of_it = 0.95, shut = 75;  // share drawn; degrees of tilt
    if (blind && blind->drawn > all_of_it)
        return std::abs(blind->tilt) > shut ? "the blind there is drawn and shut" : "the blind there is drawn";
    if (!curtain) return "";
    return luminous_share(curtain->through + curtain->straight, Spectrum{1.0F}) < 0.05 ? "the curtain there is drawn"
                                                                                       : "";
}

/// Points spread over the hole at the outer face of the wall; none where the lamp is on its inner side.
std::vector<Vec3> points_of(const Room& room, const Opening& o, const Vec3& lamp) {
    const Hole hole = hole_of(room, o);
    std::vector<Vec3> all;
    if (hole.out.dot(lamp - hole.centre) <= 0) return all;
    const bool side = o.wall == Wall::left || o.wall == Wall::right;
    const bool flat = o.wall == Wall::floor || o.wall == Wall::ceiling;
    for (int i = 0; i < across * across; ++i) {
        Vec3 p = hole.centre + hole.out * static_cast<float>(room.wall_thickness);
        (side ? p.y : p.x) += static_cast<float>(((i % across + 0.5) / across - 0.5) * (o.to - o.from));
        (flat ? p.y : p.z) += static_cast<float>(((i / across + 0.5) / across - 0.5) * (o.head - o.sill));
        all.push_back(p);
    }
    return all;
}

/// Points spread over the faces of an opening by their area, those that the lamp sees from outside.
std::vector<Vec3> points_of(const OpeningPatch& patch, const Vec3& inside, const Vec3& lamp, std::size_t count) {
    std::vector<double> up_to;
    double area = 0;
    for (const auto& t : patch.triangles)
        up_to.push_back(area += static_cast<double>((t[1] - t[0]).cross(t[2] - t[0]).length()) / 2);
    std::vector<Vec3> all;
    if (area <= 0) return all;
    for (std::size_t i = 0; i < count; ++i) {
        const double here = (static_cast<double>(i) + 0.5) / static_cast<double>(count) * area;
        const auto at = std::lower_bound(up_to.begin(), up_to.end(), here);
        const auto& t = patch.triangles[std::min<std::size_t>(static_cast<std::size_t>(at - up_to.begin()),
                                                              patch.triangles.size() - 1)];
        // Two irrational steps fill the triangle evenly whatever the count; what falls beyond its diagonal is folded.
        constexpr double step_u = 0.7548776662466927, step_v = 0.5698402909980532;
        double u = std::fmod(step_u * static_cast<double>(i), 1.0), v = std::fmod(step_v * static_cast<double>(i), 1.0);
        if (u + v > 1) u = 1 - u, v = 1 - v;
        const Vec3 n = (t[1] - t[0]).cross(t[2] - t[0]);
        if ((n.dot(inside - t[0]) > 0) != (n.dot(lamp - t[0]) > 0))
            all.push_back(t[0] + (t[1] - t[0]) * static_cast<float>(u) + (t[2] - t[0]) * static_cast<float>(v));
    }
    return all;
}

/// Whether the way from `p` to `q` leads through the box, by its three slabs.
bool between(const Box& b, const Vec3& p, const Vec3& q) {
    const Vec3 from = seen_from(b, p), way = seen_from(b, q) - from;
    double enter = 0, leave = 1;
    for (int axis = 0; axis < 3; ++axis) {
        const auto o = static_cast<double>(from[axis]), d = static_cast<double>(way[axis]);
        const double half = static_cast<double>(b.size[axis]) / 2;
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

/// Whether the way from `p` to `q` meets the triangle: Moeller and Trumbore, Journal of Graphics Tools 2(1), 1997.
bool between(const std::array<Vec3, 3>& t, const Vec3& p, const Vec3& q) {
    const Vec3 way = q - p, a = t[1] - t[0], b = t[2] - t[0], h = way.cross(b), s = p - t[0], k = s.cross(a);
    const float det = a.dot(h);
    if (det == 0) return false;
    const float u = s.dot(h) / det, v = way.dot(k) / det, along = b.dot(k) / det;
    return u >= 0 && v >= 0 && u + v <= 1 && along > 0 &&
           (1 - static_cast<double>(along)) * static_cast<double>(way.length()) > at_the_hole;
}

/// The ways from the lamp to points of one hole, and how far any of them is from the way to their middle.
struct Asked {
    Inlet inlet;
    std::vector<Vec3> to = {};
    Vec3 middle{0, 0, 0};
    float radius = 0;

    void settle() {
        for (const Vec3& q : to) middle += q / static_cast<float>(to.size());
        for (const Vec3& q : to) radius = std::max(radius, (q - middle).length());
    }
    /// Whether a thing within `reach` of its middle can stand in any of the ways from `p`.
    bool may_meet(const Vec3& p, const Vec3& centre, float reach) const {
        const Vec3 way = middle - p;
        const float along = std::clamp((centre - p).dot(way) / std::max(way.length2(), 1e-12F), 0.0F, 1.0F);
        return !to.empty() && (centre - p - way * along).length() <= 1.001F * (radius + reach);
    }
    /// Takes out the ways that the thing stands in.
    template <class Thing>
    bool lose_to(const Thing& thing, const Vec3& p) {
        return std::erase_if(to, [&](const Vec3& q) { return between(thing, p, q); }) > 0;
    }
};

void take_out(const Model& model, const Vec3& p, std::vector<Asked>& all, bool named) {
    const Triangles& mesh = *model.triangles;
    for (const Triangles::Face& face : mesh.faces) {
        if (mesh.finishes[face.finish].see_through()) continue;
        std::array<Vec3, 3> t;
        for (std::size_t i = 0; i < 3; ++i) t[i] = mesh.positions[face.corner[i]];
        const Vec3 centre = (t[0] + t[1] + t[2]) / 3.0F;
        float reach = 0;
        for (const Vec3& corner : t) reach = std::max(reach, (corner - centre).length());
        for (Asked& a : all)
            if (a.may_meet(p, centre, reach) && a.lose_to(t, p) && named) a.inlet.blocked_by = model.name;
    }
}

/// The holes that have a point in the beam, on the side of the lamp.
std::vector<Asked> in_the_beam(const Place& place, const Vec3& p, const Vec3& aim, double half_angle) {
    const double least = std::cos(radians(Degree{half_angle}));
    std::vector<Asked> all;
    const auto add = [&](Inlet inlet, const std::vector<Vec3>& points) {
        Asked& a = all.emplace_back(Asked{std::move(inlet)});
        std::copy_if(points.begin(), points.end(), std::back_inserter(a.to),
                     [&](const Vec3& q) { return static_cast<double>(aim.dot((q - p).normalized())) >= least; });
        a.settle();
        if (a.to.empty()) all.pop_back();
    };
    if (place.has_room)
        for (const Opening& o : place.room.openings)
            add({o.name, hung(o.curtain, o.blind)}, points_of(place.room, o, p));
    const std::size_t each = std::clamp<std::size_t>(
        most_of_model / std::max<std::size_t>(place.model_openings.size(), 1), 1, across * across);
    for (const OpeningPatch& o : place.model_openings)
        add({o.name, hung(o.curtain, {})}, points_of(o, (place.lower + place.upper) * 0.5F, p, each));
    return all;
}

}  // namespace

std::vector<Inlet> inlets(const Place& place, const Vec3& p, const Vec3& aim, double half_angle) {
    std::vector<Asked> all = in_the_beam(place, p, aim, half_angle);
    // Walls of a rough model are not in the way: what they hide is no hole for this lamp.
    const bool is_model = !place.has_room && !place.models.empty();
    if (is_model && !all.empty()) take_out(place.models.front(), p, all, false);
    std::erase_if(all, [](const Asked& a) { return a.to.empty(); });
    // Light finds its way through a tree, or what has gaps as one; and a lamp is not in the way of itself.
    const Box* const around = box_around(place, p);
    for (const Box& b : place.boxes) {
        if (b.shape == FurnitureShape::tree || b.finish.see_through() || &b == around) continue;
        for (Asked& a : all)
            if (a.may_meet(p, b.centre, b.size.length() / 2) && a.lose_to(b, p)) a.inlet.blocked_by = b.name;
    }
    for (std::size_t i = is_model ? 1 : 0; i < place.models.size() && !all.empty(); ++i)
        take_out(place.models[i], p, all, true);

    std::vector<Inlet> reached;
    for (const Asked& a : all) {
        reached.push_back(a.inlet);
        reached.back().gets_in = !a.to.empty();
    }
    return reached;
}

}  // namespace rushlight
