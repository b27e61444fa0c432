#include "pictures/draw/perceived.h"

#include "quantity/colour.h"
#include "quantity/units.h"

#include <algorithm>
#include <cmath>

namespace rushlight {
namespace {

// BT.709 primaries and D65 white to XYZ and back (IEC 61966-2-1, more digits than it prints).
constexpr double to_xyz[3][3] = {
    {0.4123908, 0.3575843, 0.1804808}, {0.2126390, 0.7151687, 0.0721923}, {0.0193308, 0.1191948, 0.9505322}};
constexpr double from_xyz[3][3] = {
    {3.2409699, -1.5373832, -0.4986108}, {-0.9692436, 1.8759675, 0.0415551}, {0.0556301, -0.2039770, 1.0569715}};
constexpr double white[3] = {0.9504559, 1.0, 1.0890578};

constexpr double knee = 6.0 / 29.0;
double compressed(double t) {
    return t > knee * knee * knee ? std::cbrt(t) : t / (3 * knee * knee) + 4.0 / 29.0;
}
double expanded(double t) {
    return t > knee ? t * t * t : 3 * knee * knee * (t - 4.0 / 29.0);
}

}  // namespace

Lab lab_of_linear(const Colour& linear) {
    double f[3];
    for (int row = 0; row < 3; ++row) {
        double sum = 0;
        for (std::size_t i = 0; i < 3; ++i) sum += to_xyz[row][i] * static_cast<double>(linear[i]);
        f[row] = compressed(std::max(sum, 0.0) / white[row]);
    }
    return {116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])};
}

Lab lab_of_display(const Colour& display) {
    return lab_of_linear({srgb_decoded(display[0]), srgb_decoded(display[1]), srgb_decoded(display[2])});
}

Lab lab(const LightnessChromaHue& c) {
    const double angle = radians(Degree{c.hue});
    return {c.lightness, c.chroma * std::cos(angle), c.chroma * std::sin(angle)};
}

std::array<double, 3> linear_of(const Lab& c) {
    const double y = (c.l + 16) / 116;
    const double xyz[3] = {white[0] * expanded(y + c.a / 500), white[1] * expanded(y),
                           white[2] * expanded(y - c.b / 200)};
    std::array<double, 3> rgb{};
    for (std::size_t row = 0; row < 3; ++row)
        for (std::size_t i = 0; i < 3; ++i) rgb[row] += from_xyz[row][i] * xyz[i];
    return rgb;
}

Colour display_of(const Lab& c) {
    const auto rgb = linear_of(c);
    Colour out{};
    for (std::size_t i = 0; i < 3; ++i) out[i] = srgb_encoded(static_cast<float>(std::clamp(rgb[i], 0.0, 1.0)));
    return out;
}

double largest_chroma(double lightness, double hue) {
    double shown = 0, too_much = 200;
    for (int halving = 0; halving < 40; ++halving) {
        const double middle = (shown + too_much) / 2;
        const auto rgb = linear_of(lab({lightness, middle, hue}));
        const bool fits = std::all_of(rgb.begin(), rgb.end(), [](double v) { return v >= -1e-6 && v <= 1 + 1e-6; });
        (fits ? shown : too_much) = middle;
    }
    return shown;
}

double difference(const Lab& p, const Lab& q) {
    return std::hypot(p.l - q.l, p.a - q.a, p.b - q.b);
}

}  // namespace rushlight
