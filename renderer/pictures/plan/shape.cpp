#include "pictures/plan/shape.h"

#include "pictures/plan/footprint.h"
#include "quantity/kept.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <tuple>

namespace rushlight {

namespace {

constexpr double flat = 0.02;                                // m: no thicker is what hangs as a picture does
constexpr double tolerance = 0.005, floor_is_bent_by = 0.1;  // m

Point seen_from_above(const Vec3& p) {
    return {static_cast<double>(p.x), static_cast<double>(p.y)};
}

/// Where an edge meets a level plane: the same for both triangles that share it.
Point crossing(Vec3 a, Vec3 b, double z) {
    if (std::tuple(b.x, b.y, b.z) < std::tuple(a.x, a.y, a.z)) std::swap(a, b);
    const double from = static_cast<double>(a.z) - z, to = static_cast<double>(b.z) - z;
    const Point p = seen_from_above(a), q = seen_from_above(b);
    const double along = from / (from - to);
    return {p.x + along * (q.x - p.x), p.y + along * (q.y - p.y)};
}

std::vector<PlanLine> cut_at(const Triangles& model, double z) {
    std::vector<LinePiece> pieces;
    for (const Triangles::Face& f : model.faces) {
        std::array<Point, 3> met;
        std::size_t count = 0;
        for (std::size_t i = 0; i < 3; ++i) {
            const Vec3 &a = model.positions[f.corner[i]], &b = model.positions[f.corner[(i + 1) % 3]];
            if ((static_cast<double>(a.z) < z) != (static_cast<double>(b.z) < z)) met[count++] = crossing(a, b, z);
        }
        if (count == 2) pieces.push_back({met[0], met[1]});
    }
    return joined(pieces);
}

/// From end to end, if all of it stands on one line.
PlanLine its_line(const Triangles& model) {
    const auto before = [](const Vec3& a, const Vec3& b) { return std::pair(a.x, a.y) < std::pair(b.x, b.y); };
    const auto [first, last] = std::minmax_element(model.positions.begin(), model.positions.end(), before);
    const Point a = seen_from_above(*first), b = seen_from_above(*last);
    const double dx = b.x - a.x, dy = b.y - a.y, length = std::hypot(dx, dy);
    if (!(length > flat)) return {};
    for (const Vec3& v : model.positions) {
        const Point p = seen_from_above(v);
        if (std::abs((p.x - a.x) * dy - (p.y - a.y) * dx) > flat * length) return {};
    }
    return {a, b};
}

PlanShape made_of(const Triangles& model, bool is_place, double floor, std::size_t most_points) {
    PlanShape shape;
    if (model.faces.empty()) return shape;
    shape.least = shape.most = model.positions[model.faces.front().corner[0]];
    for (const Triangles::Face& f : model.faces)
        for (const std::uint32_t corner : f.corner) {
            const Vec3& p = model.positions[corner];
            shape.least = {std::min(shape.least.x, p.x), std::min(shape.least.y, p.y), std::min(shape.least.z, p.z)};
            shape.most = {std::max(shape.most.x, p.x), std::max(shape.most.y, p.y), std::max(shape.most.z, p.z)};
        }
    const auto bottom = static_cast<double>(shape.least.z), top = static_cast<double>(shape.most.z);
    const double cut = floor + plan_heights::cut;
    shape.hangs = !is_place && bottom >= floor + plan_heights::over_heads;
    if (is_place) {
        shape.lower = footprint(model, floor + floor_is_bent_by, cut);
    } else {
        if (PlanLine line = its_line(model); !line.empty()) {
            shape.cut = {std::move(line)};
            return shape;
        }
        shape.lower = footprint(model, bottom, bottom < cut ? cut : top);
    }
    shape.cut = cut_at(model, cut);
    if (shape.cut.empty() && shape.lower.empty()) shape.cut = cut_at(model, (bottom + top) / 2);
    shape.cut = thinned(std::move(shape.cut), tolerance, most_points * 2 / 3);
    shape.lower = thinned(std::move(shape.lower), tolerance, most_points - points_in(shape.cut));
    return shape;
}

}  // namespace

/// A model of a million triangles takes a third of a second: a plan is drawn far more often than a model changes.
std::shared_ptr<const PlanShape> plan_shape(const Model& model, double floor, std::size_t most_points) {
    static DerivedFrom<Triangles, PlanShape, std::tuple<bool, double, std::size_t>> drawn;
    const bool is_place = model.name.empty();
    return drawn.get(
        model.triangles,
        [&] { return std::make_shared<const PlanShape>(made_of(*model.triangles, is_place, floor, most_points)); },
        {is_place, floor, most_points});
}

std::vector<PlanLine> plan_lines(const OpeningPatch& opening, std::size_t most_points) {
    std::vector<LinePiece> pieces;
    for (const auto& t : opening.triangles) {
        std::array<LinePiece, 3> sides;
        for (std::size_t i = 0; i < 3; ++i) sides[i] = {seen_from_above(t[i]), seen_from_above(t[(i + 1) % 3])};
        const auto length = [](const LinePiece& p) { return std::hypot(p.to.x - p.from.x, p.to.y - p.from.y); };
        const auto longest = std::max_element(sides.begin(), sides.end(),
                                              [&](const auto& a, const auto& b) { return length(a) < length(b); });
        const Vec3 across = (t[1] - t[0]).cross(t[2] - t[0]);
        const bool upright = std::abs(across.z) < 0.2F * across.length();
        for (const LinePiece& side : sides)
            if (!upright || &side == &*longest) pieces.push_back(side);
    }
    return thinned(joined(pieces), tolerance, most_points);
}

}  // namespace rushlight
