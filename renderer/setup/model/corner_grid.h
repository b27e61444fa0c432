// Corners of a flat polygon sorted into the cells of a grid, so that those in a triangle are found without a look at
// all of them.
#pragma once

#include <ImathVec.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

namespace rushlight {

class CornerGrid {
public:
    using V2d = Imath::V2d;

    /// Some two corners a cell.
    explicit CornerGrid(const std::vector<V2d>& corners)
        : side_(std::max<std::size_t>(1, static_cast<std::size_t>(std::sqrt(static_cast<double>(corners.size()) / 2)))),
          cells_(side_ * side_),
          low_(corners.front()) {
        V2d high = low_;
        for (const V2d& c : corners)
            for (int k = 0; k < 2; ++k) {
                low_[k] = std::min(low_[k], c[k]);
                high[k] = std::max(high[k], c[k]);
            }
        for (int k = 0; k < 2; ++k) cell_[k] = std::max((high[k] - low_[k]) / static_cast<double>(side_), 1e-300);
        for (std::size_t i = 0; i < corners.size(); ++i) cells_[cell(corners[i])].push_back(i);
    }

    void take_out(std::size_t corner, const V2d& at) { std::erase(cells_[cell(at)], corner); }

    /// Calls `look` with corners until it says true, among them all that lie in the triangle; says whether it did.
    template <class Look>
    bool any_near(const V2d& p, const V2d& q, const V2d& r, const Look& look) const {
        const std::size_t first = row(std::min({p.y, q.y, r.y})), last = row(std::max({p.y, q.y, r.y}));
        for (std::size_t y = first; y <= last; ++y) {
            // What of the triangle lies in this row of cells, and a hair more for rounding.
            const double hair = 1e-6 * cell_.y;
            const double bottom = low_.y + static_cast<double>(y) * cell_.y - hair, top = bottom + cell_.y + 2 * hair;
            double left = HUGE_VAL, right = -HUGE_VAL;
            for (const auto& [a, b] : {std::pair{&p, &q}, {&q, &r}, {&r, &p}})
                take_in(*a, *b, bottom, top, left, right);
            if (left > right) continue;
            const double more = 1e-6 * cell_.x;
            for (std::size_t x = column(left - more); x <= column(right + more); ++x)
                for (const std::size_t corner : cells_[y * side_ + x])
                    if (look(corner)) return true;
        }
        return false;
    }

private:
    std::size_t along(double value, int k) const {
        const double cells = (value - low_[k]) / cell_[k];
        return cells > 0 ? std::min(side_ - 1, static_cast<std::size_t>(std::min(cells, 1e9))) : 0;
    }
    std::size_t column(double x) const { return along(x, 0); }
    std::size_t row(double y) const { return along(y, 1); }
    std::size_t cell(const V2d& p) const { return row(p.y) * side_ + column(p.x); }

    /// Widens left..right by the part of an edge between two heights.
    static void take_in(const V2d& a, const V2d& b, double bottom, double top, double& left, double& right) {
        double from = 0, to = 1;
        const double rise = b.y - a.y;
        if (rise != 0) {
            const double s = (bottom - a.y) / rise, t = (top - a.y) / rise;
            from = std::max(from, std::min(s, t));
            to = std::min(to, std::max(s, t));
        } else if (a.y < bottom || a.y > top) {
            return;
        }
        if (from > to) return;
        for (const double t : {from, to}) {
            left = std::min(left, a.x + t * (b.x - a.x));
            right = std::max(right, a.x + t * (b.x - a.x));
        }
    }

    std::size_t side_;
    std::vector<std::vector<std::size_t>> cells_;
    V2d low_, cell_;
};

}  // namespace rushlight
