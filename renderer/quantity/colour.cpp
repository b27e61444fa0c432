#include "quantity/chromaticity.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace rushlight {

namespace {

using BandTable = std::array<double, bands>;

/// Scaled in double before it is cut to float, so that a dull ember does not vanish.
Spectrum one_photometric_unit(const BandTable& shape) {
    double sum = 0;
    for (std::size_t b = 0; b < bands; ++b) sum += luminous_efficacy * y_bar[b] * shape[b];
    Spectrum light;
    if (!(sum > 0)) return light;
    for (std::size_t b = 0; b < bands; ++b) light.band[b] = static_cast<float>(shape[b] / sum);
    return light;
}

/// Planck's law, mean over each band by its twenty 1 nm midpoints, relative to its value at 720 nm: without
/// that reference the exponential of a low temperature would underflow.
BandTable planck(double kelvin) {
    constexpr double reference = 720e-9;
    constexpr int steps = 20;
    BandTable shape{};
    for (std::size_t b = 0; b < bands; ++b) {
        for (int i = 0; i < steps; ++i) {
            const double nm = first_band_from + band_width * static_cast<double>(b) + i + 0.5;
            const double wavelength = nm * 1e-9;
            const double x = second_radiation_constant / (wavelength * kelvin);
            const double x0 = second_radiation_constant / (reference * kelvin);
            shape[b] += std::pow(reference / wavelength, 5.0) * std::exp(x0 - x) / -std::expm1(-x) / steps;
        }
    }
    return shape;
}

// Means over each band of CIE 15's components of daylight (its 5 nm table, trapezium rule).
constexpr BandTable s0{102.575, 103.350, 122.650, 122.350, 115.350, 110.300, 107.350, 103.525,
                       96.775,  90.950,  89.875,  85.375,  82.875,  83.425,  74.850,  72.600};
constexpr BandTable s1{44.975, 38.700, 35.275, 28.175, 20.175,  12.800,  6.250,   2.000,
                       -1.675, -4.075, -7.200, -9.625, -11.075, -13.400, -12.725, -12.425};
constexpr BandTable s2{-0.700, -1.425, -2.800, -2.650, -1.925, -1.325, -0.925, -0.275,
                       0.225,  1.975,  4.025,  5.400,  7.475,  9.600,  9.100,  8.400};

double distance(Uv a, Uv b) {
    return std::hypot(a.u - b.u, a.v - b.v);
}

struct LocusPoint {
    double kelvin = 0;
    Uv uv;
};

/// The Planckian locus seen through the same sixteen bands as the light it is compared with, so that a
/// black body's own temperature comes back.
std::vector<LocusPoint> planckian_locus() {
    constexpr double lowest = 1000, highest = 100'000, ratio = 1.0025;
    std::vector<LocusPoint> locus;
    for (double k = lowest; k < highest * ratio; k *= ratio) {
        const BandTable light = planck(k);
        double x = 0, y = 0, z = 0;
        for (std::size_t b = 0; b < bands; ++b) {
            x += x_bar[b] * light[b];
            y += y_bar[b] * light[b];
            z += z_bar[b] * light[b];
        }
        locus.push_back({k, uv({x, y, z})});
    }
    return locus;
}

constexpr Chromaticity d65_white{0.3127, 0.3290};  // ITU-R BT.709

/// XYZ (white Y = 1) from linear BT.709, out of its primaries and white.
Matrix xyz_from_bt709() {
    const Tristimulus red = at_unit_luminance(Chromaticity{0.640, 0.330}),
                      green = at_unit_luminance(Chromaticity{0.300, 0.600}),
                      blue = at_unit_luminance(Chromaticity{0.150, 0.060});
    Matrix primaries{{{red.x, green.x, blue.x}, {red.y, green.y, blue.y}, {red.z, green.z, blue.z}}};
    const auto share = inverse(primaries) * triple(at_unit_luminance(d65_white));
    for (auto& row : primaries)
        for (std::size_t j = 0; j < 3; ++j) row[j] *= share[j];
    return primaries;
}

}  // namespace

Tristimulus tristimulus(const Spectrum& light) {
    Tristimulus t;
    for (std::size_t b = 0; b < bands; ++b) {
        const double power = luminous_efficacy * light.band[b];
        t.x += x_bar[b] * power;
        t.y += y_bar[b] * power;
        t.z += z_bar[b] * power;
    }
    return t;
}

Chromaticity chromaticity(const Tristimulus& t) {
    const double sum = t.x + t.y + t.z;
    return sum > 0 ? Chromaticity{t.x / sum, t.y / sum} : Chromaticity{};
}

Spectrum blackbody(Kelvin k) {
    return one_photometric_unit(planck(k.value));
}

Spectrum daylight(Kelvin k) {
    // Outside its range the law of CIE 15 says nothing; its ends stand in.
    const double t = std::clamp(k.value, 4000.0, 25'000.0);
    const double x = t <= 7000 ? ((-4.6070e9 / t + 2.9678e6) / t + 0.09911e3) / t + 0.244063
                               : ((-2.0064e9 / t + 1.9018e6) / t + 0.24748e3) / t + 0.237040;
    const double y = (-3.0 * x + 2.870) * x - 0.275;
    const double q = 0.0241 + 0.2562 * x - 0.7341 * y;
    const double m1 = (-1.3515 - 1.7703 * x + 5.9114 * y) / q;
    const double m2 = (0.0300 - 31.4424 * x + 30.0717 * y) / q;
    BandTable shape{};
    for (std::size_t b = 0; b < bands; ++b) shape[b] = std::max(0.0, s0[b] + m1 * s1[b] + m2 * s2[b]);
    return one_photometric_unit(shape);
}

Spectrum white_light(Kelvin k) {
    constexpr Kelvin warm{4000}, cool{5000};
    if (k <= warm) return blackbody(k);
    if (k >= cool) return daylight(k);
    const double daylight_share = (mired(warm) - mired(k)) / (mired(warm) - mired(cool));
    return blackbody(k) * static_cast<float>(1 - daylight_share) + daylight(k) * static_cast<float>(daylight_share);
}

ColourTemperature colour_temperature(const Tristimulus& t) {
    if (!(t.x + 15 * t.y + 3 * t.z > 0)) return {};
    static const std::vector<LocusPoint> locus = planckian_locus();
    const Uv seen = uv(t);

    const auto closer = [&](const LocusPoint& a, const LocusPoint& b) {
        return distance(a.uv, seen) < distance(b.uv, seen);
    };
    const auto found = std::min_element(locus.begin(), locus.end(), closer);
    if (found == locus.begin() || found + 1 == locus.end()) {
        const double off = distance(found->uv, seen);
        return {Kelvin{found->kelvin}, seen.v < found->uv.v ? -off : off};
    }

    const LocusPoint &low = *(found - 1), &middle = *found, &high = *(found + 1);
    const double d_low = distance(low.uv, seen), d_middle = distance(middle.uv, seen), d_high = distance(high.uv, seen);

    // Triangle low - seen - high: the foot of its height is the nearest point of the chord.
    const double chord = distance(low.uv, high.uv);
    const double foot = (d_low * d_low - d_high * d_high + chord * chord) / (2 * chord);
    const double locus_v = low.uv.v + (high.uv.v - low.uv.v) * foot / chord;
    const double sign = seen.v < locus_v ? -1.0 : 1.0;
    const double triangle_kelvin = low.kelvin + (high.kelvin - low.kelvin) * foot / chord;
    const double triangle_duv = sign * std::sqrt(std::max(0.0, d_low * d_low - foot * foot));
    if (std::abs(triangle_duv) < 0.002) return {Kelvin{triangle_kelvin}, triangle_duv};

    // Farther off, the distance as a parabola in kelvin; measured from the middle point to keep digits.
    const double p = low.kelvin - middle.kelvin, q = high.kelvin - middle.kelvin;
    const double a = ((d_low - d_middle) / p - (d_high - d_middle) / q) / (p - q);
    const double b = (d_low - d_middle) / p - a * p;
    const double step = -b / (2 * a);
    return {Kelvin{middle.kelvin + step}, sign * (d_middle + step * (b + a * step))};
}

Matrix bradford(const Tristimulus& from, const Tristimulus& to) {
    constexpr Matrix cones{{{0.8951, 0.2664, -0.1614}, {-0.7502, 1.7135, 0.0367}, {0.0389, -0.0685, 1.0296}}};
    const auto seen = cones * triple(from), wanted = cones * triple(to);
    Matrix gains{};
    for (std::size_t i = 0; i < 3; ++i) gains[i][i] = wanted[i] / seen[i];
    return inverse(cones) * gains * cones;
}

Tristimulus tinted_white(Kelvin k, double duv) {
    const auto uv_at = [](double mireds) { return uv(tristimulus(white_light(kelvin(Mired{mireds})))); };
    const Tristimulus white = tristimulus(white_light(k));
    if (duv == 0) return white;
    // Square to the run of the locus, upwards in v: towards green.
    const double here = mired(k).value;
    const Uv cooler = uv_at(here - 1), warmer = uv_at(here + 1);
    const double length = distance(cooler, warmer);
    const Uv middle = uv(white);
    return at_unit_luminance(
        Uv{middle.u - duv * (warmer.v - cooler.v) / length, middle.v + duv * (warmer.u - cooler.u) / length});
}

WhiteBalance::WhiteBalance(Kelvin white, double tint)
    : to_rgb_(inverse(xyz_from_bt709()) * bradford(tinted_white(white, tint), at_unit_luminance(d65_white))) {}

LinearRgb WhiteBalance::operator()(const Tristimulus& t) const {
    const auto rgb = to_rgb_ * triple(t);
    return {static_cast<float>(rgb[0]), static_cast<float>(rgb[1]), static_cast<float>(rgb[2])};
}

float srgb_encoded(float linear) {
    if (!(linear > 0.0F)) return 0.0F;
    if (linear >= 1.0F) return 1.0F;
    return linear <= 0.0031308F ? 12.92F * linear : 1.055F * std::pow(linear, 1.0F / 2.4F) - 0.055F;
}

float srgb_decoded(float display) {
    return display <= 0.04045F ? display / 12.92F : std::pow((display + 0.055F) / 1.055F, 2.4F);
}

}  // namespace rushlight
