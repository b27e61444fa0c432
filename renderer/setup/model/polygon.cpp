#include "setup/model/polygon.h"

#include <cmath>
#include <numeric>

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

class EarClipper {
public:
    EarClipper(const std::vector<V2d>& flat, double area) : flat_(flat), thin_(1e-9 * area) {
        left_.resize(flat.size());
        std::iota(left_.begin(), left_.end(), std::size_t{0});
    }

    CutPolygon clip() {
        std::size_t at = 0, refused = 0;
        while (left_.size() > 3) {
            at %= left_.size();
            const bool ear = is_ear(at);
            if (!ear && ++refused <= left_.size()) {
                ++at;
                continue;
            }
            if (!ear) at = flattest();  // nothing left that is clean: a hair, or edges that cross
            emit(at);
            left_.erase(left_.begin() + static_cast<std::ptrdiff_t>(at));
            refused = 0;
            if (ear) ++at;  // not from the same corner twice: that makes needles
        }
        emit(1);
        return std::move(cut_);
    }

private:
    std::array<std::size_t, 3> corner(std::size_t at) const {
        const std::size_t n = left_.size();
        return {left_[(at + n - 1) % n], left_[at], left_[(at + 1) % n]};
    }
    double turn(std::size_t at) const {
        const auto [a, b, c] = corner(at);
        return twice_area(flat_[a], flat_[b], flat_[c]);
    }
    void emit(std::size_t at) {
        if (turn(at) > thin_) cut_.triangles.push_back(corner(at));
    }
    bool is_ear(std::size_t at) const {
        if (turn(at) <= thin_) return false;
        const auto [a, b, c] = corner(at);
        const V2d &p = flat_[a], &q = flat_[b], &r = flat_[c];
        for (std::size_t other = 0; other < left_.size(); ++other) {
            const std::size_t o = left_[other];
            if (o == a || o == b || o == c || turn(other) > thin_) continue;  // only hollow corners can reach in
            const V2d& s = flat_[o];
            if (s == p || s == q || s == r) continue;  // a bridge to a hole passes its corners twice
            if (twice_area(p, q, s) >= 0 && twice_area(q, r, s) >= 0 && twice_area(r, p, s) >= 0) return false;
        }
        return true;
    }
    std::size_t flattest() const {
        std::size_t best = 0;
        for (std::size_t i = 1; i < left_.size(); ++i)
            if (std::abs(turn(i)) < std::abs(turn(best))) best = i;
        return best;
    }

    const std::vector<V2d>& flat_;
    double thin_;
    std::vector<std::size_t> left_;
    CutPolygon cut_;
};

CutPolygon cut_quad(const std::vector<V2d>& f, std::span<const V3d> corners) {
    const bool first_fits = twice_area(f[0], f[1], f[2]) > 0 && twice_area(f[0], f[2], f[3]) > 0;
    const bool second_fits = twice_area(f[1], f[2], f[3]) > 0 && twice_area(f[1], f[3], f[0]) > 0;
    const bool first_shorter = (corners[2] - corners[0]).length2() <= (corners[3] - corners[1]).length2();
    if (first_fits && (first_shorter || !second_fits)) return {{{0, 1, 2}, {0, 2, 3}}, false};
    if (second_fits) return {{{1, 2, 3}, {1, 3, 0}}, false};
    return {};
}

}  // namespace

CutPolygon cut_polygon(std::span<const V3d> corners) {
    if (corners.size() < 3) return {};
    const V3d normal = newell_normal(corners);
    const double area = normal.length();
    if (!(area > 0)) return {};
    if (corners.size() == 3) return {{{0, 1, 2}}, false};
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
