#include "quantity/dye.h"

#include <algorithm>
#include <cmath>
#include <optional>

namespace rushlight {

namespace {

/// Reciprocal wavelength of each band, zero at 555 nm, about -0.4 (red) to 0.7 (violet) per micrometre.
constexpr double wave_number(int b) {
    return 1e3 / band_centre(b) - 1e3 / 555.0;
}

/// The ratio of two Planck curves that lie `slope` mired apart (Wien's form): a filter of this law moves any
/// white along the locus of whites.
Spectrum planck_ratio(double slope) {
    return free_shares(-slope * second_radiation_constant, 0);
}

double mired_of(const Spectrum& light) {
    return mired(colour_temperature(tristimulus(light)).cct).value;
}

/// The slope that shifts `light` by exactly `shift`, or as far as the locus goes (1,000 and 100,000 K).
double slope_for(Mired shift, const Spectrum& light) {
    const double wanted = std::clamp(mired_of(light) + shift.value, 10.1, 999.0);
    double low = -1500, high = 1500;
    for (int i = 0; i < 50; ++i) {
        const double middle = 0.5 * (low + high);
        (mired_of(planck_ratio(middle) * light) < wanted ? low : high) = middle;
    }
    return 0.5 * (low + high);
}

/// Shares as a sigmoid of a parabola: smooth, never above 1, and able to take any colour that a filter can
/// have (Jakob and Hanika, Computer Graphics Forum 38(2), 2019; here over reciprocal wavelength, so that a
/// thin dye is a Planck ratio).
struct Dye {
    Triple c{0, 0, 0};

    double share(int b) const {
        const double n = wave_number(b);
        return 1.0 / (1.0 + std::exp(-(c[0] + n * (c[1] + n * c[2]))));
    }
    Spectrum shares() const {
        Spectrum s;
        for (int b = 0; b < bands; ++b) s[b] = static_cast<float>(share(b));
        return s;
    }
};

/// Newton's method from `dye` to the one through which `light` becomes `wanted`; nothing when there is none.
std::optional<Dye> dye_for(const Triple& wanted, const Spectrum& light, Dye dye) {
    for (int i = 0; i < 30; ++i) {
        Triple off = {-wanted[0], -wanted[1], -wanted[2]};
        Matrix change{};
        for (int b = 0; b < bands; ++b) {
            const auto at = static_cast<std::size_t>(b);
            const double n = wave_number(b), s = dye.share(b), power = luminous_efficacy * light[b];
            const Triple weight{x_bar[at] * power, y_bar[at] * power, z_bar[at] * power};
            const Triple basis{1, n, n * n};
            for (std::size_t row = 0; row < 3; ++row) {
                off[row] += weight[row] * s;
                for (std::size_t k = 0; k < 3; ++k) change[row][k] += weight[row] * s * (1 - s) * basis[k];
            }
        }
        const double error = std::max({std::abs(off[0]), std::abs(off[1]), std::abs(off[2])});
        if (error < 1e-9) return dye;
        const Triple step = inverse(change) * off;
        for (std::size_t k = 0; k < 3; ++k) dye.c[k] -= step[k];
        if (!(std::abs(dye.c[0]) < 200 && std::abs(dye.c[1]) < 500 && std::abs(dye.c[2]) < 1000)) return {};
    }
    return {};
}

}  // namespace

Spectrum free_shares(double slope, double bend) {
    Spectrum s;
    for (int b = 0; b < bands; ++b) {
        const double n = wave_number(b);
        s[b] = static_cast<float>(std::exp(n * (slope + n * bend)));
    }
    return s;
}

Spectrum dyed(double slope, double bend, double wanted_share, const Spectrum& light) {
    const Spectrum ratio = free_shares(slope, bend);
    const Tristimulus t = tristimulus(ratio * light);
    const Triple colour{t.x / t.y, 1.0, t.z / t.y};

    // A very dense gel of this colour is the ratio itself, scaled. From there up in small steps to the transmission
    // that was asked for, or to the last that a filter of this colour can have.
    const double share_of_light = luminous_share(ratio, light);
    const double dense = std::min(wanted_share, 0.02 * share_of_light / static_cast<double>(ratio.largest()));
    const double power = photometric(light);
    Dye dye{{std::log(dense / share_of_light), slope, bend}};
    double share = dense;
    for (double step = 1.2; step > 1.0005;) {
        const double next = std::min(wanted_share, share * step), amount = next * power;
        const auto found = dye_for({colour[0] * amount, amount, colour[2] * amount}, light, dye);
        if (found) {
            dye = *found;
            share = next;
            if (share == wanted_share) break;
        } else {
            step = std::sqrt(step);
        }
    }
    return dye.shares();
}

Spectrum gel(Mired shift, double transmission, Kelvin base) {
    const double wanted_share = std::clamp(transmission, 0.0, 1.0);
    if (shift.value == 0 || wanted_share == 0) return Spectrum{static_cast<float>(wanted_share)};
    const Spectrum light = white_light(base);
    return dyed(-slope_for(shift, light) * second_radiation_constant, 0, wanted_share, light);
}

}  // namespace rushlight
