#include "scene/figure/skin.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace rushlight {

namespace {

/// The distance at the nodes of a grid, measured only where the surface can be. The grid is looked at in blocks of
/// eight cells a side, which are halved until they are two cells a side; a block whose middle is further from the
/// surface than its corners are from the middle is left alone. Clay is steeper than one here and there, so a leaf
/// that was left alone is taken up after all where the surface runs into it from a neighbour.
class MeasuredGrid {
public:
    static constexpr std::size_t leaf = 2, block = 8;  // cells a side

    MeasuredGrid(const Distance& distance, const ClayGrid& grid, Search search)
        : f_(distance), g_(grid), nx_(grid.x.size()), ny_(grid.y.size()), nz_(grid.z.size()) {
        value_.assign(nx_ * ny_ * nz_, std::numeric_limits<float>::quiet_NaN());
        lx_ = nx_ / leaf;
        ly_ = ny_ / leaf;
        lz_ = nz_ / leaf;
        taken_.assign(lx_ * ly_ * lz_, false);
        const std::size_t side = search == Search::everywhere ? leaf : block;
        for (std::size_t k = 0; k + 1 < nz_; k += side)
            for (std::size_t j = 0; j + 1 < ny_; j += side)
                for (std::size_t i = 0; i + 1 < nx_; i += side)
                    search == Search::everywhere ? take(i, j, k) : look(i, j, k, block);
        for (std::size_t l = 0; l < leaves_.size(); ++l) follow(leaves_[l]);  // grows as it goes
        std::sort(leaves_.begin(), leaves_.end());
    }

    std::size_t node(std::size_t i, std::size_t j, std::size_t k) const { return (k * ny_ + j) * nx_ + i; }
    std::array<std::size_t, 3> steps() const { return {1, nx_, nx_ * ny_}; }
    std::size_t nodes() const { return value_.size(); }
    Vec3 at(std::size_t i, std::size_t j, std::size_t k) const { return {g_.x[i], g_.y[j], g_.z[k]}; }
    float operator[](std::size_t node) const { return value_[node]; }

    using Node = std::array<std::size_t, 3>;
    /// Calls `visit(low, high)` for the lowest and highest node of each block of cells that is measured, in a fixed
    /// order.
    template <class Visit>
    void each_leaf(const Visit& visit) const {
        for (const std::size_t l : leaves_) {
            const Node low = lowest(l);
            visit(low, Node{std::min(low[0] + leaf, nx_ - 1), std::min(low[1] + leaf, ny_ - 1),
                            std::min(low[2] + leaf, nz_ - 1)});
        }
    }
    /// Calls `visit(i, j, k)` for the lowest node of each of their cells.
    template <class Visit>
    void each_cell(const Visit& visit) const {
        each_leaf([&](const Node& low, const Node& high) { each_cell(low, high, visit); });
    }
    template <class Visit>
    void each_cell(const Node& low, const Node& high, const Visit& visit) const {
        for (std::size_t k = low[2]; k < high[2]; ++k)
            for (std::size_t j = low[1]; j < high[1]; ++j)
                for (std::size_t i = low[0]; i < high[0]; ++i) visit(i, j, k);
    }
    bool coarse(const Vec3& p) const { return g_.coarse && g_.coarse(p); }

private:
    float measured(std::size_t i, std::size_t j, std::size_t k) {
        float& v = value_[node(i, j, k)];
        if (std::isnan(v)) v = f_(at(i, j, k));
        return v;
    }

    void look(std::size_t i0, std::size_t j0, std::size_t k0, std::size_t side) {
        if (i0 + 1 >= nx_ || j0 + 1 >= ny_ || k0 + 1 >= nz_) return;
        const std::size_t i1 = std::min(i0 + side, nx_ - 1), j1 = std::min(j0 + side, ny_ - 1),
                          k1 = std::min(k0 + side, nz_ - 1);
        const std::size_t i = (i0 + i1) / 2, j = (j0 + j1) / 2, k = (k0 + k1) / 2;
        const Vec3 middle = at(i, j, k), below = middle - at(i0, j0, k0), above = at(i1, j1, k1) - middle;
        const float reach =
            Vec3(std::max(below.x, above.x), std::max(below.y, above.y), std::max(below.z, above.z)).length();
        // Blocks may hold a feature whole, leaves only miss what their neighbours see.
        const float steepest = side > leaf ? 1.4F : 1.0F;
        if (std::abs(measured(i, j, k)) > steepest * reach) return;
        if (side == leaf) return take(i0, j0, k0);
        const std::size_t half = side / 2;
        for (std::size_t c = 0; c < 8; ++c)
            look(i0 + (c & 1) * half, j0 + (c >> 1 & 1) * half, k0 + (c >> 2) * half, half);
    }

    std::size_t number(std::size_t i, std::size_t j, std::size_t k) const {
        return (k / leaf * ly_ + j / leaf) * lx_ + i / leaf;
    }
    std::array<std::size_t, 3> lowest(std::size_t l) const {
        return {l % lx_ * leaf, l / lx_ % ly_ * leaf, l / (lx_ * ly_) * leaf};
    }

    void take(std::size_t i0, std::size_t j0, std::size_t k0) {
        const std::size_t l = number(i0, j0, k0);
        if (taken_[l]) return;
        taken_[l] = true;
        leaves_.push_back(l);
        for (std::size_t k = k0; k <= std::min(k0 + leaf, nz_ - 1); ++k)
            for (std::size_t j = j0; j <= std::min(j0 + leaf, ny_ - 1); ++j)
                for (std::size_t i = i0; i <= std::min(i0 + leaf, nx_ - 1); ++i) measured(i, j, k);
    }

    /// Takes up the neighbours into which the surface runs.
    void follow(std::size_t l) {
        const std::array<std::size_t, 3> low = lowest(l), last{nx_ - 1, ny_ - 1, nz_ - 1};
        for (std::size_t axis = 0; axis < 3; ++axis)
            for (const bool upper : {false, true}) {
                std::array<std::size_t, 3> to = low;
                if (upper ? low[axis] + leaf >= last[axis] : low[axis] == 0) continue;
                to[axis] = upper ? low[axis] + leaf : low[axis] - leaf;
                if (!taken_[number(to[0], to[1], to[2])] && crosses(low, axis, upper)) take(to[0], to[1], to[2]);
            }
    }
    bool crosses(const std::array<std::size_t, 3>& low, std::size_t axis, bool upper) const {
        const std::size_t u = (axis + 1) % 3, v = (axis + 2) % 3;
        const std::array<std::size_t, 3> last{nx_ - 1, ny_ - 1, nz_ - 1};
        std::array<std::size_t, 3> n = low;
        if (upper) n[axis] += leaf;
        bool inside = false, outside = false;
        for (n[u] = low[u]; n[u] <= std::min(low[u] + leaf, last[u]); ++n[u])
            for (n[v] = low[v]; n[v] <= std::min(low[v] + leaf, last[v]); ++n[v])
                (value_[node(n[0], n[1], n[2])] < 0 ? inside : outside) = true;
        return inside && outside;
    }

    const Distance& f_;
    const ClayGrid& g_;
    std::size_t nx_, ny_, nz_;  // nodes
    std::size_t lx_, ly_, lz_;  // leaves
    std::vector<float> value_;  // NaN where not measured
    std::vector<bool> taken_;   // by leaf
    std::vector<std::size_t> leaves_;
};

class Net {
public:
    Net(const Distance& distance, const ClayGrid& grid, Search search) : f_(distance), grid_(distance, grid, search) {}

    Mesh knit() {
        place_corners();
        join_corners();
        for (int round = 0; round < 3; ++round) even_out();
        settle();
        cut_quads();
        return std::move(mesh_);
    }

private:
    struct Cell {
        Vec3 low, size;
        Vec3 slope;  // of the distance, at the corner
    };

    void place_corners() {
        corner_.assign(grid_.nodes(), none);
        std::vector<std::size_t> crossed;
        grid_.each_leaf([&](const MeasuredGrid::Node& low, const MeasuredGrid::Node& high) {
            crossed.clear();
            const std::size_t before = cells_.size();
            grid_.each_cell(low, high, [&](std::size_t i, std::size_t j, std::size_t k) {
                const std::size_t first = grid_.node(i, j, k);
                if (!place_corner(i, j, k)) return;
                corner_[first] = static_cast<std::uint32_t>(cells_.size() - 1);
                crossed.push_back(first);
            });
            const Vec3 from = grid_.at(low[0], low[1], low[2]), to = grid_.at(high[0], high[1], high[2]);
            if (crossed.size() < 2 || !grid_.coarse((from + to) * 0.5F) || !one_sheet(before)) return;
            merge_corners(before, from, to - from);
            for (const std::size_t cell : crossed) corner_[cell] = static_cast<std::uint32_t>(before);
        });
    }

    /// In the middle of where the surface cuts the cell's edges.
    bool place_corner(std::size_t i, std::size_t j, std::size_t k) {
        const auto step = grid_.steps();
        const std::size_t first = grid_.node(i, j, k);
        std::array<float, 8> d{};
        int inside = 0;
        for (std::size_t c = 0; c < 8; ++c) {
            d[c] = grid_[first + (c & 1) * step[0] + (c >> 1 & 1) * step[1] + (c >> 2) * step[2]];
            inside += d[c] < 0;
        }
        if (inside == 0 || inside == 8) return false;
        Vec3 sum(0);
        float crossings = 0;
        for (std::size_t c = 0; c < 8; ++c)
            for (std::size_t axis = 0; axis < 3; ++axis) {
                if (c >> axis & 1) continue;
                const float a = d[c], b = d[c | std::size_t{1} << axis];
                if ((a < 0) == (b < 0)) continue;
                Vec3 p(static_cast<float>(c & 1), static_cast<float>(c >> 1 & 1), static_cast<float>(c >> 2));
                p[static_cast<int>(axis)] = a / (a - b);
                sum += p;
                crossings += 1;
            }
        const Vec3 low = grid_.at(i, j, k), size = grid_.at(i + 1, j + 1, k + 1) - low, within = sum / crossings;
        mesh_.positions.push_back(low + size * within);
        cells_.push_back({low, size, slope_in(d, within) / size});
        return true;
    }

    /// True if all corners from `first` on lie on one sheet of the surface, not on two sides of a thin part.
    bool one_sheet(std::size_t first) const {
        const Vec3& slope = cells_[first].slope;
        return std::all_of(cells_.begin() + static_cast<std::ptrdiff_t>(first), cells_.end(),
                           [&](const Cell& c) { return c.slope.dot(slope) > 0; });
    }
    /// One corner instead of all from `first` on, in a cell that holds theirs.
    void merge_corners(std::size_t first, const Vec3& low, const Vec3& size) {
        Vec3 position(0), slope(0);
        for (std::size_t c = first; c < cells_.size(); ++c) {
            position += mesh_.positions[c];
            slope += cells_[c].slope;
        }
        const float share = 1 / static_cast<float>(cells_.size() - first);
        mesh_.positions.resize(first);
        mesh_.positions.push_back(position * share);
        cells_.resize(first);
        cells_.push_back({low, size, slope * share});
    }

    /// Slope of the eight distances' trilinear blend, in cell sides.
    static Vec3 slope_in(const std::array<float, 8>& d, const Vec3& at) {
        Vec3 slope(0);
        for (std::size_t c = 0; c < 8; ++c) {
            const std::array<float, 3> weight{c & 1 ? at.x : 1 - at.x, c & 2 ? at.y : 1 - at.y,
                                              c & 4 ? at.z : 1 - at.z};
            slope +=
                Vec3((c & 1 ? 1.0F : -1.0F) * weight[1] * weight[2], (c & 2 ? 1.0F : -1.0F) * weight[0] * weight[2],
                     (c & 4 ? 1.0F : -1.0F) * weight[0] * weight[1]) *
                d[c];
        }
        return slope;
    }

    /// A quad across every grid edge that the surface cuts.
    void join_corners() {
        const auto step = grid_.steps();
        grid_.each_cell([&](std::size_t i, std::size_t j, std::size_t k) {
            const std::array<std::size_t, 3> place{i, j, k};
            const std::size_t n = grid_.node(i, j, k);
            if (corner_[n] == none) return;
            for (std::size_t axis = 0; axis < 3; ++axis) {
                if (place[(axis + 1) % 3] == 0 || place[(axis + 2) % 3] == 0) continue;  // along the rim
                const bool from_inside = grid_[n] < 0;
                if (from_inside == (grid_[n + step[axis]] < 0)) continue;
                const std::size_t u = step[(axis + 1) % 3], v = step[(axis + 2) % 3];
                std::array<std::uint32_t, 4> quad{corner_[n - u - v], corner_[n - v], corner_[n], corner_[n - u]};
                if (!from_inside) std::swap(quad[1], quad[3]);
                if (quad[0] != quad[2] && quad[1] != quad[3]) quads_.push_back(quad);  // else it has folded up
            }
        });
    }

    /// Towards the middle of the neighbours, but along the surface only.
    void even_out() {
        std::vector<Vec3> sum(mesh_.positions.size(), Vec3(0));
        std::vector<float> count(mesh_.positions.size(), 0);
        for (const auto& q : quads_)
            for (std::size_t a = 0; a < 4; ++a) {
                if (q[a] == q[(a + 1) % 4]) continue;
                sum[q[a]] += mesh_.positions[q[(a + 1) % 4]];
                sum[q[(a + 1) % 4]] += mesh_.positions[q[a]];
                count[q[a]] += 1;
                count[q[(a + 1) % 4]] += 1;
            }
        for (std::size_t c = 0; c < sum.size(); ++c) {
            const Vec3& slope = cells_[c].slope;
            if (!(count[c] > 0)) continue;
            Vec3 move = (sum[c] / count[c] - mesh_.positions[c]) * 0.5F;
            if (slope.length2() > shallowest) move -= slope * (move.dot(slope) / slope.length2());
            mesh_.positions[c] += move;
            keep_in_cell(c);
        }
    }

    /// Onto the surface along the slope of the cell: Newton's steps, corrected by how far the last one led.
    void settle() {
        for (std::size_t c = 0; c < mesh_.positions.size(); ++c) {
            const auto& [low, size, slope] = cells_[c];
            if (!(slope.length2() > shallowest)) continue;
            Vec3& p = mesh_.positions[c];
            const float most = 0.5F * std::min({size.x, size.y, size.z});
            float along = 1 / slope.length2(), before = 0;
            for (int s = 0; s < 6; ++s) {
                const float d = f_(p);
                if (std::abs(d) < close_enough) break;
                if (s > 0) along *= std::clamp(before / (before - d), 0.4F, 2.0F);
                before = d;
                const Vec3 move = slope * (-d * along);
                p += move.length() > most ? move * (most / move.length()) : move;
                keep_in_cell(c);
            }
        }
    }
    /// A corner that strays far from its cell falls onto its neighbour.
    void keep_in_cell(std::size_t c) {
        constexpr float leeway = 0.3F;
        const Vec3 &low = cells_[c].low, &size = cells_[c].size;
        Vec3& p = mesh_.positions[c];
        for (int i = 0; i < 3; ++i) p[i] = std::clamp(p[i], low[i] - leeway * size[i], low[i] + (1 + leeway) * size[i]);
    }

    void cut_quads() {
        mesh_.triangles.reserve(2 * quads_.size());
        const auto emit = [&](std::uint32_t a, std::uint32_t b, std::uint32_t c) {
            if (a != b && b != c && c != a) mesh_.triangles.push_back({a, b, c});  // corners may have been merged
        };
        for (const auto& [a, b, c, d] : quads_)
            if (cut_along_first(a, b, c, d)) {
                emit(a, b, c);
                emit(a, c, d);
            } else {
                emit(a, b, d);
                emit(b, c, d);
            }
    }
    /// Along the diagonal that bends the quad less, unless that leaves a needle.
    bool cut_along_first(std::uint32_t a, std::uint32_t b, std::uint32_t c, std::uint32_t d) const {
        if (a == b || b == c || c == d || d == a) return true;  // a triangle already
        const auto area = [&](std::uint32_t i, std::uint32_t j, std::uint32_t k) {
            const Vec3 &p = mesh_.positions[i], &q = mesh_.positions[j], &r = mesh_.positions[k];
            return (q - p).cross(r - p);
        };
        const Vec3 abc = area(a, b, c), acd = area(a, c, d), abd = area(a, b, d), bcd = area(b, c, d);
        const float whole = (abc + acd).length();
        const float first = std::min(abc.length(), acd.length()), second = std::min(abd.length(), bcd.length());
        constexpr float needle = 0.05F;
        if (std::min(first, second) < needle * whole) return first >= second;
        return abc.normalized().dot(acd.normalized()) >= abd.normalized().dot(bcd.normalized());
    }

    static constexpr std::uint32_t none = std::numeric_limits<std::uint32_t>::max();
    static constexpr float shallowest = 0.01F;    // slope squared: less is no direction to go
    static constexpr float close_enough = 4e-3F;  // mm

    const Distance& f_;
    MeasuredGrid grid_;
    std::vector<std::uint32_t> corner_;  // of the cell whose lowest node this is
    std::vector<Cell> cells_;            // by corner
    std::vector<std::array<std::uint32_t, 4>> quads_;
    Mesh mesh_;
};

}  // namespace

std::vector<float> grid_axis(float from, const std::vector<GridRange>& ranges) {
    std::vector<float> axis{from};
    for (const auto& [to, step] : ranges) {
        const int steps = std::max(1, static_cast<int>(std::lround((to - from) / step)));
        for (int s = 1; s <= steps; ++s)
            axis.push_back(from + (to - from) * static_cast<float>(s) / static_cast<float>(steps));
        from = to;
    }
    return axis;
}

Mesh skin_over(const Distance& distance, const ClayGrid& grid, Search search) {
    return Net(distance, grid, search).knit();
}

Vec3 way_out(const Distance& distance, const Vec3& p) {
    constexpr float h = 0.1F;
    return Vec3(distance(p + Vec3(h, 0, 0)) - distance(p - Vec3(h, 0, 0)),
                distance(p + Vec3(0, h, 0)) - distance(p - Vec3(0, h, 0)),
                distance(p + Vec3(0, 0, h)) - distance(p - Vec3(0, 0, h)))
        .normalized();
}

}  // namespace rushlight
