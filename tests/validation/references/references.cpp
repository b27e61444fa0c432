#include "references.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace rushlight::validation {

using std::numbers::pi;

double polygon_illuminance(double luminance, const std::vector<Point>& corners, const Point& at, const Point& facing) {
    double sum = 0;
    for (std::size_t i = 0; i < corners.size(); ++i) {
        const Point a = (corners[i] - at).normalized(), b = (corners[(i + 1) % corners.size()] - at).normalized();
        const Point across = a.cross(b);
        const double sine = across.length();
        if (sine > 0) sum += std::atan2(sine, a.dot(b)) * across.dot(facing) / sine;
    }
    return luminance / 2 * std::abs(sum);
}

double parallel_rectangle(double luminance, double x0, double x1, double y0, double y1, double h) {
    const auto corner = [&](double a, double b) {
        const double p = std::hypot(a, h), q = std::hypot(b, h);
        return luminance / 2 * (a / p * std::atan(b / p) + b / q * std::atan(a / q));
    };
    return corner(x1, y1) - corner(x0, y1) - corner(x1, y0) + corner(x0, y0);
}

double parallel_disc(double luminance, double r, double h, double d) {
    const double s = h * h + d * d;
    return pi * luminance / 2 * (1 - (s - r * r) / std::sqrt((s + r * r) * (s + r * r) - 4 * r * r * d * d));
}

double cylinder(double luminance, double length, double diameter, double distance) {
    // Along each line of the side the sum is elementary: integral of dx / (x^2 + q)^2 over its length.
    constexpr int around = 20'000;
    const double r = diameter / 2, half = length / 2;
    double sum = 0;
    for (int j = 0; j < around; ++j) {
        const double a = 2 * pi * (j + 0.5) / around;
        const double y = r * std::sin(a), z = distance - r * std::cos(a);
        const double toward = z * std::cos(a) - y * std::sin(a);
        if (toward <= 0) continue;
        const double q = y * y + z * z, root = std::sqrt(q);
        sum += z * toward * (half / (q * (half * half + q)) + std::atan(half / root) / (q * root));
    }
    return luminance * sum * r * 2 * pi / around;
}

Polarised fresnel(double cosine, double n) {
    const double inside = std::sqrt(1 - (1 - cosine * cosine) / (n * n));
    const double s = (cosine - n * inside) / (cosine + n * inside), p = (n * cosine - inside) / (n * cosine + inside);
    return {s * s, p * p};
}

double pane_transmittance(double cosine, double n, double t) {
    const double passed = std::pow(t, 1 / std::sqrt(1 - (1 - cosine * cosine) / (n * n)));
    const auto share = [&](double r) { return (1 - r) * (1 - r) * passed / (1 - r * r * passed * passed); };
    const Polarised r = fresnel(cosine, n);
    return (share(r.s) + share(r.p)) / 2;
}

double general_sky(const std::array<double, 5>& sky, const Point& toward, const Point& sun) {
    const double a = sky[0], b = sky[1], c = sky[2], d = sky[3], e = sky[4];
    const auto gradation = [&](double up) { return up > 0 ? 1 + a * std::exp(b / up) : 1.0; };
    const auto indicatrix = [&](double cosine) {
        const double chi = std::acos(std::clamp(cosine, -1.0, 1.0));
        return 1 + c * (std::exp(d * chi) - std::exp(d * pi / 2)) + e * cosine * cosine;
    };
    return gradation(toward.z) * indicatrix(toward.dot(sun)) / (gradation(1) * indicatrix(sun.z));
}

const std::array<std::array<double, 5>, 15>& general_sky_table() {
    static const std::array<std::array<double, 5>, 15> table{{{4.0, -.70, 0, -1.0, 0},
                                                              {4.0, -.70, 2, -1.5, .15},
                                                              {1.1, -.8, 0, -1.0, 0},
                                                              {1.1, -.8, 2, -1.5, .15},
                                                              {0, -1.0, 0, -1.0, 0},
                                                              {0, -1.0, 2, -1.5, .15},
                                                              {0, -1.0, 5, -2.5, .30},
                                                              {0, -1.0, 10, -3.0, .45},
                                                              {-1.0, -.55, 2, -1.5, .15},
                                                              {-1.0, -.55, 5, -2.5, .30},
                                                              {-1.0, -.55, 10, -3.0, .45},
                                                              {-1.0, -.32, 10, -3.0, .45},
                                                              {-1.0, -.32, 16, -3.0, .30},
                                                              {-1.0, -.15, 16, -3.0, .30},
                                                              {-1.0, -.15, 24, -2.8, .15}}};
    return table;
}

}  // namespace rushlight::validation
