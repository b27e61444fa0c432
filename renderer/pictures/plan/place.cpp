// The place on a plan: walls with their thickness, openings, furniture, models.
#include "pictures/plan/parts.h"
#include "pictures/plan/shape.h"
#include "pictures/words/numbers.h"
#include "quantity/units.h"

#include <algorithm>
#include <cmath>

namespace rushlight::plan_parts {

namespace {

using plan_heights::over_heads;

/// Footprint of a box, in metres.
std::vector<Point> corners_of(const Box& b) {
    const double a = radians(Degree{b.turn}), c = std::cos(a), s = std::sin(a);
    std::vector<Point> corners;
    for (const auto& [u, v] : {std::pair{-0.5, -0.5}, {0.5, -0.5}, {0.5, 0.5}, {-0.5, 0.5}}) {
        const double x = u * static_cast<double>(b.size.x), y = v * static_cast<double>(b.size.y);
        corners.push_back(
            {static_cast<double>(b.centre.x) + c * x - s * y, static_cast<double>(b.centre.y) + s * x + c * y});
    }
    return corners;
}

std::vector<Point> on_paper(const Drawing& d, const std::vector<Point>& metres) {
    std::vector<Point> points;
    for (const Point& m : metres) points.push_back(d.to(m.x, m.y));
    return points;
}

bool in_extent(const Extent& e, const Vec3& p, double reach) {
    const auto x = static_cast<double>(p.x), y = static_cast<double>(p.y);
    return x > e.x0 - reach && x < e.x1 + reach && y > e.y0 - reach && y < e.y1 + reach;
}

/// An opening as a rectangle of its wall, in metres: from its inner to its outer face.
struct HoleOnPlan {
    std::vector<Point> corners;  // inner from, inner to, outer to, outer from
    bool there = false;
};
HoleOnPlan hole_on_plan(const Room& r, const Opening& o) {
    const double t = r.wall_thickness;
    switch (o.wall) {
        case Wall::near:
            return {{{o.from, 0}, {o.to, 0}, {o.to, -t}, {o.from, -t}}, true};
        case Wall::far:
            return {{{o.from, r.depth}, {o.to, r.depth}, {o.to, r.depth + t}, {o.from, r.depth + t}}, true};
        case Wall::left:
            return {{{0, o.from}, {0, o.to}, {-t, o.to}, {-t, o.from}}, true};
        case Wall::right:
            return {{{r.width, o.from}, {r.width, o.to}, {r.width + t, o.to}, {r.width + t, o.from}}, true};
        case Wall::floor:
        case Wall::ceiling:
            break;
    }
    return {{{o.from, o.sill}, {o.to, o.sill}, {o.to, o.head}, {o.from, o.head}}, false};
}

Point between(const Point& a, const Point& b, double share) {
    return {a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)};
}

void draw_opening(Drawing& d, const Opening& o) {
    const HoleOnPlan hole = hole_on_plan(d.setup.place.room, o);
    const std::vector<Point> p = on_paper(d, hole.corners);
    if (!hole.there) {  // in the ceiling or the floor
        d.paper.lines(p, true, {faint, 0.5, {2, 2}});
        d.paper.line(p[0], p[2], {faint, 0.35, {2, 2}});
        return;
    }
    d.paper.fill(p, white);
    d.paper.line(p[0], p[3], {ink, 0.6, {}});
    d.paper.line(p[1], p[2], {ink, 0.6, {}});
    d.paper.line(p[0], p[1], {faint, 0.3, {}});
    d.paper.line(p[3], p[2], {faint, 0.3, {}});
    if (o.glazed)
        for (const double at : {0.44, 0.56})
            d.paper.line(between(p[0], p[3], at), between(p[1], p[2], at), {ink, 0.5, {}});
    if (o.curtain || o.blind) d.paper.line(p[0], p[1], {ink, 1.2, {0.8, 1.4}});
}

void draw_room(Drawing& d) {
    const Room& r = d.setup.place.room;
    const double t = r.wall_thickness;
    const std::vector<Point> outer =
        on_paper(d, {{-t, -t}, {r.width + t, -t}, {r.width + t, r.depth + t}, {-t, r.depth + t}});
    const std::vector<Point> inner = on_paper(d, {{0, 0}, {r.width, 0}, {r.width, r.depth}, {0, r.depth}});
    d.paper.fill(outer, wall);
    d.paper.fill(inner, white);
    d.paper.lines(inner, true, {ink, 0.5, {}});
    for (const Opening& o : r.openings) draw_opening(d, o);
    // The walls are drawn; names may lie on them only if they must.
    for (const auto& [x0, y0, x1, y1] : {std::array{-t, -t, r.width + t, 0.0},
                                         {-t, r.depth, r.width + t, r.depth + t},
                                         {-t, -t, 0.0, r.depth + t},
                                         {r.width, -t, r.width + t, r.depth + t}}) {
        const Point a = d.to(x0, y1), b = d.to(x1, y0);
        d.labels.keep_off({a.x, a.y, b.x, b.y}, LabelPlaces::What::wall);
    }
}

constexpr std::size_t most_points = 50'000;  // of all models of a plan

void draw_models(Drawing& d) {
    const Place& p = d.setup.place;
    const std::size_t each = most_points / std::max<std::size_t>(1, p.models.size() + p.model_openings.size());
    for (const Model& m : p.models) {
        const auto shape = plan_shape(m, static_cast<double>(p.lower.z), each);
        const std::vector<double> dashes = shape->hangs ? std::vector<double>{2, 1.5} : std::vector<double>{};
        for (const PlanLine& line : shape->lower) d.paper.lines(on_paper(d, line), true, {faint, 0.45, dashes});
        const bool place = m.name.empty();
        for (const PlanLine& line : shape->cut)
            d.paper.lines(on_paper(d, line), false, {place ? wall : ink, place ? 1.2 : 0.7, {}});
    }
    for (const OpeningPatch& o : p.model_openings)
        for (const PlanLine& line : plan_lines(o, each)) d.paper.lines(on_paper(d, line), false, {ink, 0.5, {2, 1}});
}

double top_of(const Box& b) {
    return static_cast<double>(b.centre.z + b.size.z / 2);
}
double bottom_of(const Box& b) {
    return static_cast<double>(b.centre.z - b.size.z / 2);
}

void dimension(Drawing& d, Point from, Point to, const std::string& words, bool upright) {
    const double tick = 2.5;
    d.paper.line(from, to, {faint, 0.4, {}});
    for (const Point& end : {from, to})
        d.paper.line({end.x - (upright ? tick : 0), end.y - (upright ? 0 : tick)},
                     {end.x + (upright ? tick : 0), end.y + (upright ? 0 : tick)}, {faint, 0.6, {}});
    const TextLook look{d.look.letters, false, Align::middle, faint, 0, true, false};
    const PaperSize size = d.paper.size_of(words, look);
    const Point at = between(from, to, 0.5);
    const PaperBox box = d.paper.text({at.x, at.y - size.height / 2}, words, look);
    d.labels.keep_off(box, LabelPlaces::What::words);
    d.labels.keep_off_line(from, to, LabelPlaces::What::dimension);
}

}  // namespace

void draw_place(Drawing& d) {
    const Place& p = d.setup.place;
    std::vector<const Box*> boxes;
    for (const Box& b : p.boxes)
        if (in_extent(d.extent, b.centre, 0) && std::max(b.size.x, b.size.y) < 15) boxes.push_back(&b);
    // Low things first, so that a table lies over the stool under it.
    std::stable_sort(boxes.begin(), boxes.end(), [](const Box* a, const Box* b) { return top_of(*a) < top_of(*b); });
    if (p.has_room) draw_room(d);
    for (const Box* b : boxes) {
        const std::vector<Point> corners = on_paper(d, corners_of(*b));
        const bool hangs = bottom_of(*b) >= over_heads;
        if (!hangs) d.paper.fill(corners, pale, 0.85);
        d.paper.lines(corners, true,
                      {hangs ? faint : ink, 0.45, hangs ? std::vector<double>{2, 1.5} : std::vector<double>{}});
    }
    draw_models(d);
    if (!p.has_room || !d.look.words) return;
    const double off = 9;  // pt outside the wall
    const double t = p.room.wall_thickness;
    const Point a = d.to(0, p.room.depth + t), b = d.to(p.room.width, p.room.depth + t);
    dimension(d, {a.x, a.y - off}, {b.x, b.y - off}, length_text(p.room.width, d.look.units), false);
    const Point e = d.to(-t, 0), f = d.to(-t, p.room.depth);
    dimension(d, {e.x - off, e.y}, {f.x - off, f.y}, length_text(p.room.depth, d.look.units), true);
}

void label_place(Drawing& d) {
    const TextLook small{d.look.letters * 0.88, false, Align::middle, faint, 0, true, false};
    const auto write = [&](Point at, double reach, const std::string& words, LabelPlaces::Wanted wanted) {
        constexpr double farthest = 55;  // pt
        const auto found = d.labels.place(at, reach, d.paper.size_of(words, small), wanted, farthest);
        if (!found) return;
        if (found->leader) d.paper.line(found->leader->from, found->leader->to, {faint, 0.3, {}});
        d.paper.text({(found->box.x0 + found->box.x1) / 2, found->box.y0}, words, small);
    };
    if (d.setup.place.has_room)
        for (const Opening& o : d.setup.place.room.openings) {
            const HoleOnPlan hole = hole_on_plan(d.setup.place.room, o);
            std::string words = o.name;
            if (d.look.words && hole.there)
                words += "\n" + length_text(o.sill, d.look.units) + " to " + length_text(o.head, d.look.units) +
                         (o.nd_density > 0 ? ", ND " + fixed(o.nd_density, 1) : "") + (o.curtain ? ", curtain" : "") +
                         (o.blind ? ", blind" : "");
            const Point out = between(between(hole.corners[2], hole.corners[3], 0.5),
                                      between(hole.corners[0], hole.corners[1], 0.5), hole.there ? -0.1 : 0.5);
            write(d.to(out.x, out.y), 1, words, LabelPlaces::Wanted::clear);
        }
    for (const Box& b : d.setup.place.boxes) {
        constexpr double least = 0.12;  // m: thinner things are known by what they hang on
        if (!in_extent(d.extent, b.centre, 0) || std::min(b.size.x, b.size.y) < least) continue;
        if (std::max(b.size.x, b.size.y) >= 15) continue;
        std::string words = b.name;
        if (d.look.words) words += ", " + length_text(top_of(b), d.look.units);
        write(d.to(b.centre), 0, words, LabelPlaces::Wanted::free);
    }
    for (const Model& m : d.setup.place.models) {
        if (m.name.empty() || !in_extent(d.extent, m.at, 0)) continue;
        write(d.to(m.at), 0, m.name, LabelPlaces::Wanted::free);
    }
}

}  // namespace rushlight::plan_parts
