// Light in sixteen bands. A Spectrum is either a share (reflectance, transmittance: no unit, 0..1) or an
// amount of light, mean over each band and per nanometre, scaled so that 683 * sum(y_bar * band) is in
// photometric units: the same sixteen numbers are lux, candela or cd/m2 according to where they stand.
#pragma once

#include <array>
#include <cstddef>

namespace rushlight {

inline constexpr int bands = 16;
inline constexpr double band_width = 20.0;        // nm
inline constexpr double first_band_from = 400.0;  // nm; the last band ends at 720 nm

/// Middle of band `b`, nm.
constexpr double band_centre(int b) {
    return first_band_from + band_width * (b + 0.5);
}

struct alignas(64) Spectrum {
    std::array<float, bands> band{};

    constexpr Spectrum() = default;
    constexpr explicit Spectrum(float all) { band.fill(all); }

    constexpr float& operator[](int b) { return band[static_cast<std::size_t>(b)]; }
    constexpr float operator[](int b) const { return band[static_cast<std::size_t>(b)]; }

    constexpr Spectrum& operator+=(const Spectrum& o) {
        for (std::size_t b = 0; b < bands; ++b) band[b] += o.band[b];
        return *this;
    }
    constexpr Spectrum& operator*=(const Spectrum& o) {
        for (std::size_t b = 0; b < bands; ++b) band[b] *= o.band[b];
        return *this;
    }
    constexpr Spectrum& operator*=(float k) {
        for (std::size_t b = 0; b < bands; ++b) band[b] *= k;
        return *this;
    }
    friend constexpr Spectrum operator+(Spectrum a, const Spectrum& b) { return a += b; }
    friend constexpr Spectrum operator*(Spectrum a, const Spectrum& b) { return a *= b; }
    friend constexpr Spectrum operator*(Spectrum a, float k) { return a *= k; }
    friend constexpr Spectrum operator*(float k, Spectrum a) { return a *= k; }
    friend constexpr bool operator==(const Spectrum&, const Spectrum&) = default;

    constexpr float largest() const {
        float m = band[0];
        for (float v : band) m = v > m ? v : m;
        return m;
    }
    constexpr bool dark() const {
        for (float v : band)
            if (v > 0) return false;
        return true;
    }
};

/// CIE 1931 2-degree observer (ISO/CIE 11664-1), integrated over each band in nm; the end bands hold the
/// tails down to 360 and up to 830 nm. Sums agree with the 5 nm table to the last digit printed.
inline constexpr std::array<double, bands> x_bar{1.21390, 5.34250, 6.61250,  3.90890,  0.77465,  0.37442,
                                                 3.38842, 8.73825, 15.19200, 20.25425, 19.72462, 12.93437,
                                                 5.84700, 1.89018, 0.50252,  0.16687};
inline constexpr std::array<double, bands> y_bar{0.03455,  0.24620,  0.78650,  1.88495,  4.33465,  10.17500,
                                                 17.01025, 19.74875, 18.89250, 15.09350, 10.08500, 5.40500,
                                                 2.22400,  0.69390,  0.18202,  0.06026};
inline constexpr std::array<double, bands> z_bar{5.79816, 26.21970, 35.03470, 25.49358, 9.88578, 3.28662,
                                                 0.89263, 0.20000,  0.04712,  0.02363,  0.00838, 0.00142,
                                                 0.00010, 0.00000,  0.00000,  0.00000};

/// Luminous efficacy of 555 nm light, lm/W (definition of the candela, SI brochure).
inline constexpr double luminous_efficacy = 683.0;

namespace detail {
constexpr std::array<float, bands> photometric_weights() {
    std::array<float, bands> w{};
    for (std::size_t b = 0; b < bands; ++b) w[b] = static_cast<float>(luminous_efficacy * y_bar[b]);
    return w;
}
inline constexpr std::array<float, bands> photometric_weight = photometric_weights();
}  // namespace detail

/// The photometric value of the light: lux, candela or cd/m2, whichever the spectrum stands for.
constexpr float photometric(const Spectrum& light) {
    float sum = 0;
    for (std::size_t b = 0; b < bands; ++b) sum += detail::photometric_weight[b] * light.band[b];
    return sum;
}

/// `shape` scaled so that its photometric value is `amount` (in lux, lumen, candela or cd/m2).
constexpr Spectrum scaled_to(const Spectrum& shape, double amount) {
    const double now = photometric(shape);
    return now > 0 ? shape * static_cast<float>(amount / now) : Spectrum{};
}

/// Share of `light` that a surface or cloth with band shares `share` passes on, photometrically (0..1).
constexpr double luminous_share(const Spectrum& share, const Spectrum& light) {
    const double all = photometric(light);
    return all > 0 ? photometric(share * light) / all : 0.0;
}

/// Light of equal power at every wavelength, one photometric unit of it (CIE illuminant E).
constexpr Spectrum equal_energy() {
    return scaled_to(Spectrum{1.0F}, 1.0);
}

}  // namespace rushlight
