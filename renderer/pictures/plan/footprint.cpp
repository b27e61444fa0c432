#include "pictures/plan/footprint.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

constexpr double finest = 0.005;   // m
constexpr int most_across = 800;   // cells
constexpr double most_work = 2e7;  // cells looked at, of all triangles together
// The steps of a slanting edge lie within 1.3 cells.
constexpr double smoothing = 1.4;  // cells

struct Flat {
    double x[3], y[3], z[3];
    double x0, y0, x1, y1;
};

/// There may be millions of triangles, so no copy is kept.
template <class Act>
void for_each(const Triangles& model, double from_height, double to_height, const Act& act) {
    for (const Triangles::Face& f : model.faces) {
        Flat t{};
        for (std::size_t i = 0; i < 3; ++i) {
            const Vec3& p = model.positions[f.corner[i]];
            t.x[i] = static_cast<double>(p.x), t.y[i] = static_cast<double>(p.y), t.z[i] = static_cast<double>(p.z);
        }
        const auto [low, high] = std::minmax_element(t.z, t.z + 3);
        if (*high < from_height || *low > to_height) continue;
        t.x0 = *std::min_element(t.x, t.x + 3), t.x1 = *std::max_element(t.x, t.x + 3);
        t.y0 = *std::min_element(t.y, t.y + 3), t.y1 = *std::max_element(t.y, t.y + 3);
        act(t);
    }
}

class Ground {
public:
    Ground(double x0, double y0, double x1, double y1, double cell)
        : x0_(x0),
          y0_(y0),
          cell_(cell),
          across_(static_cast<int>(std::floor((x1 - x0) / cell)) + 1),
          deep_(static_cast<int>(std::floor((y1 - y0) / cell)) + 1),
          covered_(static_cast<std::size_t>(across_) * static_cast<std::size_t>(deep_), 0) {}

    void cover(const Flat& t, double from_height, double to_height) {
        const double area = (t.x[1] - t.x[0]) * (t.y[2] - t.y[0]) - (t.x[2] - t.x[0]) * (t.y[1] - t.y[0]);
        if (area == 0) return;
        const int c0 = column_of(t.x0, x0_, across_), c1 = column_of(t.x1, x0_, across_);
        const int r0 = column_of(t.y0, y0_, deep_), r1 = column_of(t.y1, y0_, deep_);
        for (int r = r0; r <= r1; ++r)
            for (int c = c0; c <= c1; ++c) {
                const double x = x0_ + (c + 0.5) * cell_, y = y0_ + (r + 0.5) * cell_;
                double share[3], z = 0;
                for (std::size_t i = 0; i < 3; ++i) {
                    const std::size_t j = (i + 1) % 3, k = (i + 2) % 3;
                    share[i] = ((t.x[j] - x) * (t.y[k] - y) - (t.x[k] - x) * (t.y[j] - y)) / area;
                    z += share[i] * t.z[i];
                }
                const bool inside = share[0] >= 0 && share[1] >= 0 && share[2] >= 0;
                if (inside && z >= from_height && z <= to_height) covered_[at(c, r)] = 1;
            }
    }

    /// Between what is covered and what is not.
    std::vector<LinePiece> edges() const {
        std::vector<LinePiece> pieces;
        const auto corner = [&](int c, int r) { return Point{x0_ + c * cell_, y0_ + r * cell_}; };
        for (int r = 0; r <= deep_; ++r)
            for (int c = 0; c <= across_; ++c) {
                if (is(c, r) != is(c - 1, r)) pieces.push_back({corner(c, r), corner(c, r + 1)});
                if (is(c, r) != is(c, r - 1)) pieces.push_back({corner(c, r), corner(c + 1, r)});
            }
        return pieces;
    }

private:
    int column_of(double v, double from, int count) const {
        return std::clamp(static_cast<int>(std::floor((v - from) / cell_)), 0, count - 1);
    }
    std::size_t at(int c, int r) const {
        return static_cast<std::size_t>(r) * static_cast<std::size_t>(across_) + static_cast<std::size_t>(c);
    }
    bool is(int c, int r) const { return c >= 0 && r >= 0 && c < across_ && r < deep_ && covered_[at(c, r)] != 0; }

    double x0_, y0_, cell_;
    int across_, deep_;
    std::vector<char> covered_;
};

}  // namespace

std::vector<PlanLine> footprint(const Triangles& model, double from_height, double to_height) {
    double x0 = INFINITY, y0 = INFINITY, x1 = -INFINITY, y1 = -INFINITY, area = 0;
    for_each(model, from_height, to_height, [&](const Flat& t) {
        x0 = std::min(x0, t.x0), y0 = std::min(y0, t.y0), x1 = std::max(x1, t.x1), y1 = std::max(y1, t.y1);
        area += (t.x1 - t.x0) * (t.y1 - t.y0);
    });
    if (!(x1 >= x0)) return {};
    const double cell = std::max({finest, std::max(x1 - x0, y1 - y0) / most_across, std::sqrt(area / most_work)});
    Ground ground(x0, y0, x1, y1, cell);
    for_each(model, from_height, to_height, [&](const Flat& t) { ground.cover(t, from_height, to_height); });
    return thinned(joined(ground.edges()), smoothing * cell, SIZE_MAX);
}

}  // namespace rushlight
