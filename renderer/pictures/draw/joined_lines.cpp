#include "pictures/draw/joined_lines.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <map>
#include <set>
#include <utility>

namespace rushlight {

namespace {

using Knot = std::pair<std::int64_t, std::int64_t>;  // mm

Knot knot_at(const Point& s) {
    return {std::llround(s.x * 1000), std::llround(s.y * 1000)};
}

struct Ends {
    Point spot;
    std::vector<std::size_t> pieces;
};

double distance_to(const Point& p, const Point& a, const Point& b) {
    const double dx = b.x - a.x, dy = b.y - a.y, square = dx * dx + dy * dy;
    const double along = square > 0 ? std::clamp(((p.x - a.x) * dx + (p.y - a.y) * dy) / square, 0.0, 1.0) : 0.0;
    return std::hypot(p.x - a.x - along * dx, p.y - a.y - along * dy);
}

/// Douglas and Peucker, Algorithms for the reduction of the number of points (1973), between two that are kept.
void keep_far_ones(const PlanLine& line, std::size_t first, std::size_t last, double tolerance,
                   std::vector<char>& keep) {
    std::vector<std::pair<std::size_t, std::size_t>> open{{first, last}};
    while (!open.empty()) {
        const auto [a, b] = open.back();
        open.pop_back();
        double most = tolerance;
        std::size_t farthest = 0;
        for (std::size_t i = a + 1; i < b; ++i)
            if (const double d = distance_to(line[i], line[a], line[b]); d > most) most = d, farthest = i;
        if (farthest == 0) continue;
        keep[farthest] = 1;
        open.emplace_back(a, farthest);
        open.emplace_back(farthest, b);
    }
}

PlanLine thinner(const PlanLine& line, double tolerance) {
    constexpr std::size_t stretch = 1000;  // its square is what a line can cost
    std::vector<char> keep(line.size(), 0);
    keep.front() = keep.back() = 1;
    for (std::size_t first = 0; first + 1 < line.size(); first += stretch) {
        const std::size_t last = std::min(first + stretch, line.size() - 1);
        keep[last] = 1;
        keep_far_ones(line, first, last, tolerance, keep);
    }
    PlanLine thin;
    for (std::size_t i = 0; i < line.size(); ++i)
        if (keep[i]) thin.push_back(line[i]);
    return thin;
}

bool is_larger(const PlanLine& line, double size) {
    const auto [left, right] =
        std::minmax_element(line.begin(), line.end(), [](const Point& a, const Point& b) { return a.x < b.x; });
    const auto [low, high] =
        std::minmax_element(line.begin(), line.end(), [](const Point& a, const Point& b) { return a.y < b.y; });
    return std::hypot(right->x - left->x, high->y - low->y) > size;
}

}  // namespace

std::vector<PlanLine> joined(const std::vector<LinePiece>& pieces) {
    std::map<Knot, Ends> knots;
    std::set<std::pair<Knot, Knot>> known;
    std::vector<std::pair<Knot, Knot>> ends;
    for (const LinePiece& p : pieces) {
        const Knot a = knot_at(p.from), b = knot_at(p.to);
        if (a == b || !known.insert(std::minmax(a, b)).second) continue;
        for (const auto& [knot, spot] : {std::pair{a, p.from}, {b, p.to}}) {
            Ends& at = knots.try_emplace(knot, Ends{spot, {}}).first->second;
            at.pieces.push_back(ends.size());
        }
        ends.emplace_back(a, b);
    }
    std::vector<char> used(ends.size(), 0);
    std::vector<PlanLine> lines;
    const auto follow = [&](Knot at) {
        PlanLine line{knots.at(at).spot};
        for (bool on = true; on;) {
            on = false;
            for (auto& open = knots.at(at).pieces; !open.empty() && !on;) {
                const std::size_t piece = open.back();
                open.pop_back();
                if (used[piece]) continue;
                used[piece] = 1;
                at = ends[piece].first == at ? ends[piece].second : ends[piece].first;
                line.push_back(knots.at(at).spot);
                on = true;
            }
        }
        if (line.size() > 1) lines.push_back(std::move(line));
    };
    // Open lines from their ends, then closed ones, each from its lowest corner.
    for (const auto& [knot, at] : knots)
        if (at.pieces.size() % 2 == 1) follow(knot);
    for (const auto& [knot, at] : knots)
        while (!knots.at(knot).pieces.empty()) follow(knot);
    return lines;
}

std::size_t points_in(const std::vector<PlanLine>& lines) {
    std::size_t sum = 0;
    for (const PlanLine& line : lines) sum += line.size();
    return sum;
}

std::vector<PlanLine> thinned(std::vector<PlanLine> lines, double tolerance, std::size_t most_points) {
    for (;; tolerance *= 2) {
        for (PlanLine& line : lines) line = thinner(line, tolerance);
        std::erase_if(lines, [&](const PlanLine& line) { return !is_larger(line, tolerance); });
        if (points_in(lines) <= most_points) return lines;
    }
}

}  // namespace rushlight
