// Names of a plan's signs, with what a crew must know of each: where they stand so that none hides another.
#include "pictures/plan/parts.h"

#include <algorithm>
#include <cstdint>
#include <numeric>

namespace rushlight::plan_parts {

namespace {

using Wanted = LabelPlaces::Wanted;

constexpr double near = 77, farthest = 280, in_a_crowd = 30;  // pt
/// More than these are a crowd: names alone, near their signs, in the order of the file.
constexpr std::size_t crowd = 60;
/// And of still more no names can be read; the tables have them.
constexpr std::size_t most_names = 400;

TextLook look_of(const Drawing& d, std::size_t line) {
    return {d.look.letters, line == 0, Align::left, ink, 0, true, false};
}

/// A name that has its place, with as many of its lines as have room there.
struct Put {
    LabelPlaces::Found at;
    std::size_t lines = 1;
};

class Names {
public:
    Names(Drawing& d, const std::vector<Named>& all) : d_(d), all_(all) {
        for (const Named& n : all) {
            std::vector<PaperSize>& sizes = sizes_.emplace_back();
            PaperSize sum;
            for (std::size_t i = 0; i < n.lines.size(); ++i) {
                const PaperSize one = d.paper.size_of(n.lines[i], look_of(d, i));
                sum.width = std::max(sum.width, one.width);
                sum.height += one.height;
                sizes.push_back(sum);
            }
        }
    }

    struct Try {
        LabelPlaces places;
        std::vector<Put> put;
        double cost = 0;
    };
    Try in_order(const std::vector<std::size_t>& order) const {
        constexpr double of_a_line_left_out = 25;  // pt that a name would rather stand farther off
        Try t{d_.labels, std::vector<Put>(all_.size()), 0};
        for (const std::size_t i : order) {
            t.put[i] = put(t.places, i);
            t.cost +=
                t.put[i].at.cost + of_a_line_left_out * static_cast<double>(all_[i].lines.size() - t.put[i].lines);
        }
        return t;
    }

private:
    /// Where the facts are in a table too, fewer of them near their sign are better than all of them far off.
    Put put(LabelPlaces& places, std::size_t i) const {
        const Named& n = all_[i];
        const Point sign = d_.to(n.at);
        const double reach = n.reach * d_.to.per_metre;
        if (all_.size() <= crowd)
            for (std::size_t count = n.lines.size(); count > 0; --count) {
                const double off = d_.look.tables && count > 1 ? near : farthest;
                if (const auto found = places.place(sign, reach, sizes_[i][count - 1], Wanted::clear, off))
                    return {*found, count};
            }
        return {*places.place(sign, reach, sizes_[i][0], Wanted::always, all_.size() <= crowd ? farthest : in_a_crowd),
                1};
    }

    Drawing& d_;
    const std::vector<Named>& all_;
    std::vector<std::vector<PaperSize>> sizes_;  // of a name's first lines: one, two, ...
};

void write(Drawing& d, const Named& n, const Put& put) {
    if (put.at.leader) d.paper.line(put.at.leader->from, put.at.leader->to, {ink, 0.35, {}});
    // Words to the left of a thing end at it, words over or under it have it in their middle: a short name at the far
    // end of a long line would be read as another's.
    const PaperBox& box = put.at.box;
    const double off = (d.to(n.at).x - box.x0) / std::max(box.width(), 1.0);
    const Align align = off < 0.25 ? Align::left : off > 0.75 ? Align::right : Align::middle;
    const double x = align == Align::left ? box.x0 : align == Align::right ? box.x1 : (box.x0 + box.x1) / 2;
    double y = box.y0;
    for (std::size_t i = 0; i < put.lines; ++i) {
        TextLook look = look_of(d, i);
        look.align = align;
        y = d.paper.text({x, y}, n.lines[i], look).y1;
    }
}

}  // namespace

void write_names(Drawing& d, const std::vector<Named>& all) {
    if (all.empty() || all.size() > most_names) return;
    const Names names(d, all);
    std::vector<std::size_t> order(all.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    Names::Try best = names.in_order(order);
    // Whoever comes first has the best place; another order may serve all of them better.
    constexpr std::size_t all_tried = 600, most_tries = 24;
    const std::size_t tries = std::min(all_tried / all.size(), most_tries);
    std::uint32_t chance = 1;
    for (std::size_t t = 1; t < tries && all.size() <= crowd; ++t) {
        for (std::size_t i = order.size() - 1; i > 0; --i) {
            chance = chance * 1664525U + 1013904223U;  // Numerical Recipes: the same plan each time
            std::swap(order[i], order[(chance >> 8U) % (i + 1)]);
        }
        Names::Try now = names.in_order(order);
        if (now.cost < best.cost) best = std::move(now);
    }
    d.labels = best.places;
    for (std::size_t i = 0; i < all.size(); ++i) write(d, all[i], best.put[i]);
}

}  // namespace rushlight::plan_parts
