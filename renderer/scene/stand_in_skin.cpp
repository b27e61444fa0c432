#include "scene/stand_in_skin.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace rushlight {

namespace {

constexpr std::size_t block = 8;  // cells along the side of a block that is looked at as one
constexpr float unset = std::numeric_limits<float>::quiet_NaN();

class Net {
public:
    Net(const Distance& distance, const ClayGrid& grid)
        : f_(distance), g_(grid), nx_(grid.x.size()), ny_(grid.y.size()), nz_(grid.z.size()) {}

    Mesh knit() {
        measure();
        place_corners();
        join_corners();
        for (int round = 0; round < 3; ++round) {
            settle(2);
            even_out();
        }
        settle(5);
        cut_quads();
        return std::move(mesh_);
    }

private:
    std::size_t node(std::size_t i, std::size_t j, std::size_t k) const { return (k * ny_ + j) * nx_ + i; }
    Vec3 at(std::size_t i, std::size_t j, std::size_t k) const { return {g_.x[i], g_.y[j], g_.z[k]}; }

    /// Distances at the grid's nodes; exact only in blocks that the surface can reach.
    void measure() {
        value_.assign(nx_ * ny_ * nz_, unset);
        for (std::size_t k = 0; k + 1 < nz_; k += block)
            for (std::size_t j = 0; j + 1 < ny_; j += block)
                for (std::size_t i = 0; i + 1 < nx_; i += block) measure_block(i, j, k);
    }
    void measure_block(std::size_t i0, std::size_t j0, std::size_t k0) {
        const std::size_t i1 = std::min(i0 + block, nx_ - 1), j1 = std::min(j0 + block, ny_ - 1),
                          k1 = std::min(k0 + block, nz_ - 1);
        const Vec3 low = at(i0, j0, k0), high = at(i1, j1, k1);
        const float middle = f_((low + high) * 0.5F);
        const bool near = std::abs(middle) < 1.6F * (high - low).length() / 2 + 4;
        for (std::size_t k = k0; k <= k1; ++k)
            for (std::size_t j = j0; j <= j1; ++j)
                for (std::size_t i = i0; i <= i1; ++i) {
                    float& v = value_[node(i, j, k)];
                    if (near) {
                        if (!(std::abs(v) < far_off)) v = f_(at(i, j, k));
                    } else if (std::isnan(v)) {
                        v = std::copysign(2 * far_off, middle);
                    }
                }
    }

    void place_corners() {
        corner_.assign(value_.size(), none);
        const std::size_t step[3] = {1, nx_, nx_ * ny_};
        for (std::size_t k = 0; k + 1 < nz_; ++k)
            for (std::size_t j = 0; j + 1 < ny_; ++j)
                for (std::size_t i = 0; i + 1 < nx_; ++i) {
                    const std::size_t first = node(i, j, k);
                    int inside = 0;
                    for (std::size_t c = 0; c < 8; ++c)
                        inside += value_[first + (c & 1) * step[0] + (c >> 1 & 1) * step[1] + (c >> 2) * step[2]] < 0;
                    if (inside == 0 || inside == 8) continue;
                    const Vec3 low = at(i, j, k), size = at(i + 1, j + 1, k + 1) - low;
                    Vec3 sum(0);
                    float crossings = 0;
                    for (std::size_t c = 0; c < 8; ++c)
                        for (int axis = 0; axis < 3; ++axis) {
                            if (c >> axis & 1) continue;
                            const std::size_t n =
                                first + (c & 1) * step[0] + (c >> 1 & 1) * step[1] + (c >> 2) * step[2];
                            const float a = value_[n], b = value_[n + step[axis]];
                            if ((a < 0) == (b < 0)) continue;
                            Vec3 p(static_cast<float>(c & 1), static_cast<float>(c >> 1 & 1),
                                   static_cast<float>(c >> 2));
                            p[axis] = a / (a - b);
                            sum += p;
                            crossings += 1;
                        }
                    corner_[first] = static_cast<std::uint32_t>(mesh_.positions.size());
                    mesh_.positions.push_back(low + size * (sum / crossings));
                    cells_.push_back({low, size});
                }
    }

    /// A quad across every grid edge that the surface cuts.
    void join_corners() {
        const std::size_t step[3] = {1, nx_, nx_ * ny_};
        for (std::size_t k = 1; k + 1 < nz_; ++k)
            for (std::size_t j = 1; j + 1 < ny_; ++j)
                for (std::size_t i = 1; i + 1 < nx_; ++i) {
                    const std::size_t n = node(i, j, k);
                    for (std::size_t axis = 0; axis < 3; ++axis) {
                        const bool from_inside = value_[n] < 0;
                        if (from_inside == (value_[n + step[axis]] < 0)) continue;
                        const std::size_t u = step[(axis + 1) % 3], v = step[(axis + 2) % 3];
                        std::array<std::uint32_t, 4> quad{corner_[n - u - v], corner_[n - v], corner_[n],
                                                          corner_[n - u]};
                        if (!from_inside) std::swap(quad[1], quad[3]);
                        quads_.push_back(quad);
                    }
                }
    }

    /// Newton's steps along the slope, never more than half a cell.
    void settle(int steps) {
        for (std::size_t c = 0; c < mesh_.positions.size(); ++c) {
            Vec3& p = mesh_.positions[c];
            for (int s = 0; s < steps; ++s) {
                const float d = f_(p);
                if (std::abs(d) < 2e-3F) break;
                const Vec3 slope = slope_at(p);
                if (!(slope.length2() > 0.01F)) break;
                const Vec3 move = slope * (-d / slope.length2());
                const Vec3& size = cells_[c].size;
                const float most = 0.5F * std::min({size.x, size.y, size.z});
                p += move.length() > most ? move * (most / move.length()) : move;
                keep_in_cell(c);
            }
        }
    }
    Vec3 slope_at(const Vec3& p) const {
        constexpr float h = 0.05F;
        return Vec3(f_(p + Vec3(h, 0, 0)) - f_(p - Vec3(h, 0, 0)), f_(p + Vec3(0, h, 0)) - f_(p - Vec3(0, h, 0)),
                    f_(p + Vec3(0, 0, h)) - f_(p - Vec3(0, 0, h))) /
               (2 * h);
    }
    /// A corner that strays far from its cell falls onto its neighbour.
    void keep_in_cell(std::size_t c) {
        constexpr float leeway = 0.3F;
        const auto& [low, size] = cells_[c];
        Vec3& p = mesh_.positions[c];
        for (int i = 0; i < 3; ++i) p[i] = std::clamp(p[i], low[i] - leeway * size[i], low[i] + (1 + leeway) * size[i]);
    }
    void even_out() {
        std::vector<Vec3> sum(mesh_.positions.size(), Vec3(0));
        std::vector<float> count(mesh_.positions.size(), 0);
        for (const auto& q : quads_)
            for (std::size_t a = 0; a < 4; ++a) {
                sum[q[a]] += mesh_.positions[q[(a + 1) % 4]];
                sum[q[(a + 1) % 4]] += mesh_.positions[q[a]];
                count[q[a]] += 1;
                count[q[(a + 1) % 4]] += 1;
            }
        for (std::size_t c = 0; c < sum.size(); ++c)
            if (count[c] > 0) {
                mesh_.positions[c] += (sum[c] / count[c] - mesh_.positions[c]) * 0.5F;
                keep_in_cell(c);
            }
    }
    /// Along the diagonal that bends the quad less, unless that leaves a needle.
    void cut_quads() {
        const auto area = [&](std::uint32_t a, std::uint32_t b, std::uint32_t c) {
            const Vec3 &p = mesh_.positions[a], &q = mesh_.positions[b], &r = mesh_.positions[c];
            return (q - p).cross(r - p);
        };
        for (const auto& [a, b, c, d] : quads_) {
            const Vec3 abc = area(a, b, c), acd = area(a, c, d), abd = area(a, b, d), bcd = area(b, c, d);
            const float whole = (abc + acd).length();
            const float first = std::min(abc.length(), acd.length()), second = std::min(abd.length(), bcd.length());
            const bool flat_first = abc.normalized().dot(acd.normalized()) >= abd.normalized().dot(bcd.normalized());
            constexpr float needle = 0.05F;
            const bool along_first = std::min(first, second) < needle * whole ? first >= second : flat_first;
            if (along_first) {
                mesh_.triangles.push_back({a, b, c});
                mesh_.triangles.push_back({a, c, d});
            } else {
                mesh_.triangles.push_back({a, b, d});
                mesh_.triangles.push_back({b, c, d});
            }
        }
    }

    static constexpr float far_off = 1e6F;
    static constexpr std::uint32_t none = std::numeric_limits<std::uint32_t>::max();

    const Distance& f_;
    const ClayGrid& g_;
    std::size_t nx_, ny_, nz_;
    std::vector<float> value_;
    std::vector<std::uint32_t> corner_;  // of the cell whose lowest node this is
    struct Cell {
        Vec3 low, size;
    };
    std::vector<Cell> cells_;  // by corner
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

Mesh skin_over(const Distance& distance, const ClayGrid& grid) {
    return Net(distance, grid).knit();
}

Vec3 way_out(const Distance& distance, const Vec3& p) {
    constexpr float h = 0.1F;
    return Vec3(distance(p + Vec3(h, 0, 0)) - distance(p - Vec3(h, 0, 0)),
                distance(p + Vec3(0, h, 0)) - distance(p - Vec3(0, h, 0)),
                distance(p + Vec3(0, 0, h)) - distance(p - Vec3(0, 0, h)))
        .normalized();
}

}  // namespace rushlight
