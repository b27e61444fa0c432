#include "pictures/draw/label_places.h"

#include "quantity/units.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

using What = LabelPlaces::What;

bool is_hard(What what) {
    return what != What::line && what != What::wall;
}

/// What a square point of it costs, in points that a label would rather stand farther off.
double weight_of(What what) {
    switch (what) {
        case What::sign:
        case What::edge:
        case What::words:
        case What::dimension:
        case What::leader:
            return 8;
        case What::wall:
            return 2;
        case What::line:
            break;
    }
    return 0.15;
}

bool holds(const PaperBox& box, Point p) {
    return p.x >= box.x0 && p.x <= box.x1 && p.y >= box.y0 && p.y <= box.y1;
}

}  // namespace

std::optional<std::pair<double, double>> within(const PaperBox& box, Point a, Point b) {
    double enter = 0, leave = 1;
    const auto slab = [&](double from, double way, double low, double high) {
        if (std::abs(way) < 1e-9) return from > low && from < high;
        const double one = (low - from) / way, other = (high - from) / way;
        enter = std::max(enter, std::min(one, other));
        leave = std::min(leave, std::max(one, other));
        return true;
    };
    if (!slab(a.x, b.x - a.x, box.x0, box.x1) || !slab(a.y, b.y - a.y, box.y0, box.y1) || enter >= leave)
        return std::nullopt;
    return std::pair{enter, leave};
}

void LabelPlaces::keep_off_line(Point from, Point to, What what) {
    constexpr double piece = 6;  // pt
    const double length = std::hypot(to.x - from.x, to.y - from.y);
    const int pieces = std::clamp(static_cast<int>(length / piece), 1, 400);
    for (int i = 0; i < pieces; ++i) {
        const double a = (i + 0.5) / pieces, x = from.x + a * (to.x - from.x), y = from.y + a * (to.y - from.y);
        keep_off({x - piece / 2, y - piece / 2, x + piece / 2, y + piece / 2}, what);
    }
}

LabelPlaces::Cost LabelPlaces::cost_of(const PaperBox& box) const {
    Cost cost;
    if (box.x0 < area_.x0 || box.y0 < area_.y0 || box.x1 > area_.x1 || box.y1 > area_.y1) cost.hard = 1e6;
    for (const Taken& t : taken_)
        if (const double shared = box.shared_area(t.box); shared > 0)
            (is_hard(t.what) ? cost.hard : cost.soft) += weight_of(t.what) * shared;
    return cost;
}

/// It ends where it reaches the sign, or one that lies round it.
LabelPlaces::Leader LabelPlaces::leader_to(Point at, const PaperBox& words) const {
    const Point from{std::clamp(at.x, words.x0, words.x1), std::clamp(at.y, words.y0, words.y1)};
    double end = 1;
    for (const Taken& t : taken_)
        if (t.what == What::sign && holds(t.box, at))
            if (const auto part = within(t.box, from, at)) end = std::min(end, part->first);
    return {from, {from.x + end * (at.x - from.x), from.y + end * (at.y - from.y)}};
}

double LabelPlaces::cost_of(const Leader& leader, Point sign) const {
    constexpr double through_a_thing = 400, over_a_leader = 100;
    double cost = 0;
    for (const Taken& t : taken_) {
        const bool thing = t.what == What::sign || t.what == What::edge || t.what == What::words;
        if ((!thing && t.what != What::leader) || holds(t.box, sign)) continue;
        if (within(t.box, leader.from, leader.to)) cost += thing ? through_a_thing : over_a_leader;
    }
    return cost;
}

std::optional<LabelPlaces::Found> LabelPlaces::place(Point at, double reach, PaperSize size, Wanted wanted,
                                                     double farthest) {
    // Under, over, right, left, and between; then the same farther off. Near ones cost least. What has no sign has
    // its name on it, if that is free.
    constexpr int around = 24;
    constexpr double steps[] = {3,  6,  9,   13,  18,  24,  30,  37,  45,  55, 65,
                                77, 90, 105, 120, 140, 160, 185, 210, 240, 280};
    constexpr double by_distance = 0.8, leader_from = 12, may_cover = 12, touches = 2, covers = 150;
    Found best;
    double least = 1e9;
    Cost covered;
    double crossed = 0;
    const auto look_at = [&](Point middle, double step) {
        const PaperBox box{middle.x - size.width / 2, middle.y - size.height / 2, middle.x + size.width / 2,
                           middle.y + size.height / 2};
        if (by_distance * step >= least) return;
        const Cost cover = cost_of(box);
        double cost = cover.hard + (cover.hard > touches ? covers : 0) + cover.soft + by_distance * step;
        if (cost >= least) return;
        std::optional<Leader> leader;
        if (step > leader_from) leader = leader_to(at, box);
        const double crossing = leader ? cost_of(*leader, at) : 0;
        cost += crossing;
        if (cost >= least) return;
        least = cost;
        covered = cover;
        crossed = crossing;
        best = {box, leader, cost};
    };
    if (reach <= 0) look_at(at, 0);
    for (const double step : steps) {
        if (step > farthest) break;
        for (int i = 0; i < around; ++i) {
            const double turn = 2 * pi * ((i * 7) % around) / around + pi / 2;
            const double c = std::cos(turn), s = std::sin(turn);
            // The box touches a circle round the sign at the side that looks to it.
            look_at({at.x + c * (reach + step) + std::clamp(c * 1.42, -1.0, 1.0) * size.width / 2,
                     at.y + s * (reach + step) + std::clamp(s * 1.42, -1.0, 1.0) * size.height / 2},
                    step);
        }
    }
    if (wanted == Wanted::clear && (covered.hard > touches || crossed > 0)) return std::nullopt;
    if (wanted == Wanted::free && (covered.hard > touches || covered.soft > may_cover || best.leader))
        return std::nullopt;
    keep_off(best.box, What::words);
    if (best.leader) {
        keep_off_line(best.leader->from, best.leader->to, What::leader);
        leaders_.push_back(*best.leader);
    }
    return best;
}

}  // namespace rushlight
