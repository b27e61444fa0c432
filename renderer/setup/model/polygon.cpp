#include "setup/model/polygon.h"

#include "setup/model/corner_grid.h"

#include <cmath>
#include <deque>
#include <optional>
#include <utility>

namespace rushlight {

namespace {

using V2d = Imath::V2d;
using V3d = Imath::V3d;

double twice_area(const V2d& a, const V2d& b, const V2d& c) {
    return (b - a).cross(c - a);
}

/// Newell's normal: its length is twice the area that the polygon covers in its mean plane.
V3d newell_normal(std::span<const V3d> corners) {
    V3d n(0);
    const V3d& origin = corners.front();  // near the polygon, or far models lose digits
    for (std::size_t i = 0; i < corners.size(); ++i)
        n += (corners[i] - origin).cross(corners[(i + 1) % corners.size()] - origin);
    return n;
}

/// The polygon seen along its normal, anticlockwise.
std::vector<V2d> flattened(std::span<const V3d> corners, const V3d& normal) {
    const V3d n = normal.normalized();
    const V3d helper = std::abs(n.x) < 0.6 ? V3d(1, 0, 0) : V3d(0, 1, 0);
    const V3d x = helper.cross(n).normalized();
    const V3d y = n.cross(x);
    std::vector<V2d> flat;
    flat.reserve(corners.size());
    for (const V3d& c : corners) flat.emplace_back((c - corners[0]).dot(x), (c - corners[0]).dot(y));
    return flat;
}

/// Clips one ear after the other. A corner that is no ear waits for the hollow corner that reaches into its triangle:
/// only when that one is gone is it looked at again.
class EarClipper {
public:
    EarClipper(const std::vector<V2d>& flat, double area) : flat_(flat), thin_(1e-9 * area), left_(flat.size()) {
        const std::size_t n = flat.size();
        corners_.resize(n);
        for (std::size_t i = 0; i < n; ++i) {
            corners_[i].before = (i + n - 1) % n;
            corners_[i].after = (i + 1) % n;
        }
        for (std::size_t i = 0; i < n; ++i) corners_[i].turn = turn_at(i);
        if (n > few) grid_.emplace(flat);
    }

    CutPolygon clip() {
        for (std::size_t i = 0; i < corners_.size(); ++i) queue(i);
        while (left_ > 3) {
            const std::optional<std::size_t> next = from_queue();
            if (!next) {
                // Nothing left that is clean: a hair, or edges that cross.
                take(flattest());
                continue;
            }
            const Blocked blocked = blocked_by(*next);
            if (!blocked.at_all)
                take(*next);
            else if (blocked.by)
                corners_[*blocked.by].keeps.push_back(*next);
        }
        emit(corners_[any_left()].after);
        return std::move(cut_);
    }

private:
    struct Corner {
        std::size_t before = 0, after = 0;
        double turn = 0;  // twice the area of its triangle: hollow where this is not positive
        bool there = true;
        unsigned queued = 0;             // the ticket it waits with in the queue
        std::vector<std::size_t> keeps;  // those that are no ears because of it
    };
    struct Blocked {
        bool at_all = false;
        std::optional<std::size_t> by;
    };
    static constexpr std::size_t few = 32;  // corners that are looked at one by one

    double turn_at(std::size_t i) {
        ++cut_.looks;
        return twice_area(flat_[corners_[i].before], flat_[i], flat_[corners_[i].after]);
    }
    bool hollow(std::size_t i) const { return corners_[i].turn <= thin_; }
    void queue(std::size_t i) { queue_.emplace_back(i, ++corners_[i].queued); }
    std::optional<std::size_t> from_queue() {
        while (!queue_.empty()) {
            const auto [i, ticket] = queue_.front();
            queue_.pop_front();
            if (corners_[i].there && corners_[i].queued == ticket) return i;
        }
        return std::nullopt;
    }
    void emit(std::size_t i) {
        if (corners_[i].turn > thin_) cut_.triangles.push_back({corners_[i].before, i, corners_[i].after});
    }

    Blocked blocked_by(std::size_t i) {
        if (hollow(i)) return {true, std::nullopt};
        const std::size_t a = corners_[i].before, c = corners_[i].after;
        const V2d &p = flat_[a], &q = flat_[i], &r = flat_[c];
        Blocked blocked;
        const auto reaches_in = [&](std::size_t o) {
            ++cut_.looks;
            if (o == a || o == i || o == c || !hollow(o)) return false;  // only hollow corners can reach in
            const V2d& s = flat_[o];
            if (s == p || s == q || s == r) return false;  // a bridge to a hole passes its corners twice
            if (twice_area(p, q, s) < 0 || twice_area(q, r, s) < 0 || twice_area(r, p, s) < 0) return false;
            blocked = {true, o};
            return true;
        };
        if (grid_) {
            grid_->any_near(p, q, r, reaches_in);
            return blocked;
        }
        for (std::size_t o = corners_[c].after; o != a; o = corners_[o].after)
            if (reaches_in(o)) break;
        return blocked;
    }

    /// Cuts the corner off. Its neighbours wait behind all others: clipping beside the last cut makes needles.
    void take(std::size_t i) {
        emit(i);
        Corner& gone = corners_[i];
        gone.there = false;
        --left_;
        corners_[gone.before].after = gone.after;
        corners_[gone.after].before = gone.before;
        if (grid_) grid_->take_out(i, flat_[i]);
        release(i);
        for (const std::size_t side : {gone.after, gone.before}) {
            corners_[side].turn = turn_at(side);
            if (!hollow(side)) release(side);
            queue(side);
        }
    }
    /// It blocks nobody any more.
    void release(std::size_t i) {
        for (const std::size_t waiting : corners_[i].keeps)
            if (corners_[waiting].there) queue(waiting);
        corners_[i].keeps.clear();
    }
    std::size_t any_left() const {
        std::size_t i = 0;
        while (!corners_[i].there) ++i;
        return i;
    }
    std::size_t flattest() {
        std::size_t best = any_left();
        for (std::size_t i = corners_[best].after, first = best; i != first; i = corners_[i].after) {
            ++cut_.looks;
            if (std::abs(corners_[i].turn) < std::abs(corners_[best].turn)) best = i;
        }
        return best;
    }

    const std::vector<V2d>& flat_;
    double thin_;
    std::size_t left_;
    std::vector<Corner> corners_;
    std::deque<std::pair<std::size_t, unsigned>> queue_;
    std::optional<CornerGrid> grid_;
    CutPolygon cut_;
};

CutPolygon cut_quad(const std::vector<V2d>& f, std::span<const V3d> corners) {
    const bool first_fits = twice_area(f[0], f[1], f[2]) > 0 && twice_area(f[0], f[2], f[3]) > 0;
    const bool second_fits = twice_area(f[1], f[2], f[3]) > 0 && twice_area(f[1], f[3], f[0]) > 0;
    const bool first_shorter = (corners[2] - corners[0]).length2() <= (corners[3] - corners[1]).length2();
    if (first_fits && (first_shorter || !second_fits)) return {{{0, 1, 2}, {0, 2, 3}}};
    if (second_fits) return {{{1, 2, 3}, {1, 3, 0}}};
    return {};
}

}  // namespace

CutPolygon cut_polygon(std::span<const V3d> corners) {
    if (corners.size() < 3) return {};
    const V3d normal = newell_normal(corners);
    const double area = normal.length();
    if (!(area > 0)) return {};
    if (corners.size() == 3) return {{{0, 1, 2}}};
    const std::vector<V2d> flat = flattened(corners, normal);
    if (corners.size() == 4)
        if (CutPolygon quad = cut_quad(flat, corners); !quad.triangles.empty()) return quad;
    CutPolygon cut = EarClipper(flat, area).clip();
    double covered = 0;
    for (const auto& [a, b, c] : cut.triangles) covered += twice_area(flat[a], flat[b], flat[c]);
    cut.crosses_itself = std::abs(covered - area) > 1e-3 * area;
    return cut;
}

}  // namespace rushlight
