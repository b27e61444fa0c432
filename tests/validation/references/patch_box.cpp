#include "patch_box.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace rushlight::validation {

using std::numbers::pi;

double Patch::area() const {
    double a = 1;
    for (int k = 0; k < 3; ++k)
        if (k != axis) a *= high[static_cast<std::size_t>(k)] - low[static_cast<std::size_t>(k)];
    return a;
}

std::vector<Point> Patch::corners() const {
    const int u = (axis + 1) % 3, v = (axis + 2) % 3;
    std::vector<Point> out;
    for (const auto& [i, j] : {std::array<int, 2>{0, 0}, {1, 0}, {1, 1}, {0, 1}}) {
        Point p;
        p[axis] = level;
        p[u] = i != 0 ? high[static_cast<std::size_t>(u)] : low[static_cast<std::size_t>(u)];
        p[v] = j != 0 ? high[static_cast<std::size_t>(v)] : low[static_cast<std::size_t>(v)];
        out.push_back(p);
    }
    return out;
}

namespace {

/// Sum over the corners of both rectangles of +-g(x, y, eta, xi).
template <class Corner>
double corner_sum(const std::array<double, 2>& x, const std::array<double, 2>& y, const std::array<double, 2>& eta,
                  const std::array<double, 2>& xi, const Corner& g) {
    double sum = 0;
    for (std::size_t i = 0; i < 2; ++i)
        for (std::size_t j = 0; j < 2; ++j)
            for (std::size_t k = 0; k < 2; ++k)
                for (std::size_t l = 0; l < 2; ++l)
                    sum += ((i + j + k + l) % 2 != 0 ? -1 : 1) * g(x[i], y[j], eta[k], xi[l]);
    return sum;
}

/// d k atan(d / k), and its limit.
double arc(double d, double k) {
    return k > 0 ? d * k * std::atan(d / k) : 0.0;
}
/// a ln b where a vanishes faster.
double times_log(double a, double b) {
    return b > 0 ? a * std::log(b) : 0.0;
}

std::array<double, 2> range(const Patch& p, int axis) {
    return {p.low[static_cast<std::size_t>(axis)], p.high[static_cast<std::size_t>(axis)]};
}

}  // namespace

double form_factor(const Patch& a, const Patch& b) {
    if (a.axis == b.axis) {
        const double z = a.level - b.level;
        if (z == 0) return 0;
        const int u = (a.axis + 1) % 3, v = (a.axis + 2) % 3;
        const double sum = corner_sum(
            range(a, u), range(a, v), range(b, v), range(b, u), [z](double x, double y, double eta, double xi) {
                const double p = std::hypot(x - xi, z), q = std::hypot(y - eta, z);
                return arc(y - eta, p) + arc(x - xi, q) - times_log(z * z / 2, (x - xi) * (x - xi) + q * q);
            });
        return sum / (2 * pi * a.area());
    }
    // Distances from the edge in which the two planes meet, and the axis along it.
    const int along = 3 - a.axis - b.axis;
    const auto from_edge = [](std::array<double, 2> r, double edge) {
        for (double& x : r) x = std::abs(x - edge);
        std::sort(r.begin(), r.end());
        return r;
    };
    const double sum = corner_sum(from_edge(range(a, b.axis), b.level), range(a, along), range(b, along),
                                  from_edge(range(b, a.axis), a.level), [](double x, double y, double eta, double xi) {
                                      const double k = std::hypot(x, xi), d = y - eta;
                                      return arc(d, k) - times_log((k * k - d * d) / 4, k * k + d * d);
                                  });
    return sum / (2 * pi * a.area());
}

PatchBox::PatchBox(std::array<double, 3> size, int n, std::array<double, 6> reflectance,
                   std::array<double, 6> given_out)
    : n_(n), reflectance_(reflectance) {
    for (int face = 0; face < 6; ++face) {
        const int axis = face / 2, u = (axis + 1) % 3, v = (axis + 2) % 3;
        for (int i = 0; i < n; ++i)
            for (int j = 0; j < n; ++j) {
                Patch p;
                p.axis = axis;
                p.level = face % 2 != 0 ? size[static_cast<std::size_t>(axis)] : 0;
                const auto cut = [&](int k, int step) {
                    const auto at = static_cast<std::size_t>(k);
                    p.low[at] = size[at] * step / n;
                    p.high[at] = size[at] * (step + 1) / n;
                };
                cut(u, i);
                cut(v, j);
                patches_.push_back(p);
            }
    }
    const std::size_t count = patches_.size(), a_face = count / 6;
    std::vector<double> factor(count * count);
    for (std::size_t i = 0; i < count; ++i)
        for (std::size_t j = i + 1; j < count; ++j) {
            const double f = form_factor(patches_[i], patches_[j]);
            factor[i * count + j] = f;
            factor[j * count + i] = f * patches_[i].area() / patches_[j].area();
        }
    // B - rho F B = M, by elimination: each row keeps more on its diagonal than beside it, so none need be swapped.
    std::vector<double> m(count * count);
    exitance_.resize(count);
    for (std::size_t i = 0; i < count; ++i) {
        double sum = 0;
        const double rho = reflectance[i / a_face];
        for (std::size_t j = 0; j < count; ++j) {
            sum += factor[i * count + j];
            m[i * count + j] = (i == j ? 1 : 0) - rho * factor[i * count + j];
        }
        closure_ = std::max(closure_, std::abs(sum - 1));
        exitance_[i] = given_out[i / a_face];
    }
    for (std::size_t k = 0; k < count; ++k)
        for (std::size_t i = k + 1; i < count; ++i) {
            const double share = m[i * count + k] / m[k * count + k];
            if (share == 0) continue;
            for (std::size_t j = k + 1; j < count; ++j) m[i * count + j] -= share * m[k * count + j];
            exitance_[i] -= share * exitance_[k];
        }
    for (std::size_t i = count; i-- > 0;) {
        for (std::size_t j = i + 1; j < count; ++j) exitance_[i] -= m[i * count + j] * exitance_[j];
        exitance_[i] /= m[i * count + i];
    }
    illuminance_.assign(count, 0);
    for (std::size_t i = 0; i < count; ++i)
        for (std::size_t j = 0; j < count; ++j) illuminance_[i] += factor[i * count + j] * exitance_[j];
}

double PatchBox::mean(int face) const {
    const auto a_face = static_cast<std::size_t>(n_) * static_cast<std::size_t>(n_);
    double sum = 0;
    for (std::size_t i = 0; i < a_face; ++i) sum += illuminance_[static_cast<std::size_t>(face) * a_face + i];
    return sum / static_cast<double>(a_face);
}

double PatchBox::at(const Point& place, const Point& facing) const {
    double sum = 0;
    for (std::size_t i = 0; i < patches_.size(); ++i) {
        std::vector<Point> above;
        const std::vector<Point> corners = patches_[i].corners();
        for (std::size_t k = 0; k < 4; ++k) {
            const Point& p = corners[k];
            const Point& q = corners[(k + 1) % 4];
            const double a = (p - place).dot(facing), b = (q - place).dot(facing);
            if (a >= 0) above.push_back(p);
            if ((a < 0 && b > 0) || (a > 0 && b < 0)) above.push_back(p + (q - p) * (a / (a - b)));
        }
        if (above.size() > 2) sum += polygon_illuminance(exitance_[i] / pi, above, place, facing);
    }
    return sum;
}

double PatchBox::kept() const {
    double sum = 0;
    const std::size_t a_face = patches_.size() / 6;
    for (std::size_t i = 0; i < patches_.size(); ++i)
        sum += (1 - reflectance_[i / a_face]) * illuminance_[i] * patches_[i].area();
    return sum;
}

}  // namespace rushlight::validation
