#include "quantity/lamp_spectra.h"

#include "spectral_table.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>

namespace rushlight {
namespace {

constexpr std::array made{LightKind::white_led, LightKind::wide_led, LightKind::fluorescent};

ColourTemperature seen(const Spectrum& s) {
    return colour_temperature(tristimulus(s));
}

// Ohno's solutions (LEUKOS 10(1), 2014) find again what was asked for.
TEST(LampSpectra, HaveTheKelvinAndTintThatWereAskedFor) {
    for (const LightKind kind : made)
        for (const double k : {2400.0, 2700.0, 3200.0, 4300.0, 5600.0, 6500.0, 9000.0})
            for (const double duv : {-0.008, 0.0, 0.008}) {
                const auto s = lamp_spectrum(kind, Kelvin{k}, duv);
                ASSERT_TRUE(s) << k << " " << duv;
                EXPECT_NEAR(seen(*s).cct.value, k, 1e-3 * k);
                EXPECT_NEAR(seen(*s).duv, duv, 1e-4);
                EXPECT_NEAR(photometric(*s), 1.0F, 1e-4F);
                for (const float band : s->band) EXPECT_GE(band, 0.0F);
            }
    for (const LightKind kind : {LightKind::tungsten, LightKind::daylight, LightKind::plain})
        for (const double duv : {-0.006, 0.006}) {
            const auto s = lamp_spectrum(kind, Kelvin{4600}, duv);
            ASSERT_TRUE(s);
            EXPECT_NEAR(seen(*s).cct.value, 4600, 5);
            EXPECT_NEAR(seen(*s).duv, duv, 1e-4);
        }
    EXPECT_EQ(*lamp_spectrum(LightKind::tungsten, Kelvin{3200}), blackbody(Kelvin{3200}));
}

// The mixture of two whites lies on the chord between them, under the curved locus (CIE 1960 u,v is a projective map:
// chords stay straight).
TEST(LampSpectra, TwoChannelsSagUnderTheLocus) {
    EXPECT_NEAR(seen(*lamp_spectrum(LightKind::two_channel_led, Kelvin{2700})).duv, 0, 1e-4);
    EXPECT_NEAR(seen(*lamp_spectrum(LightKind::two_channel_led, Kelvin{6500})).duv, 0, 1e-4);
    const ColourTemperature middle = seen(*lamp_spectrum(LightKind::two_channel_led, Kelvin{4000}));
    EXPECT_NEAR(middle.cct.value, 4000, 4);
    EXPECT_LT(middle.duv, -0.004);
    EXPECT_GT(middle.duv, -0.02);
    EXPECT_FALSE(lamp_spectrum(LightKind::two_channel_led, Kelvin{2500}));
    EXPECT_FALSE(lamp_spectrum(LightKind::two_channel_led, Kelvin{7000}));
    EXPECT_FALSE(lamp_spectrum(LightKind::daylight, Kelvin{2700}));
}

/// Anything sampled evenly: wavelengths do not matter, as long as all are sampled alike.
using Samples = std::vector<double>;

/// CIE 13.3-1995: the general colour rendering index, mean of the first eight test colours. Published.
class ColourRendering {
public:
    ColourRendering(Samples x, Samples y, Samples z, std::vector<Samples> colours)
        : x_(std::move(x)), y_(std::move(y)), z_(std::move(z)), colours_(std::move(colours)) {}

    double index(const Samples& light, const Samples& reference) const {
        const Uv k = uv(light, {}), r = uv(reference, {});
        double sum = 0;
        for (int i = 0; i < 8; ++i) {
            const Samples& c = colours_[static_cast<std::size_t>(i)];
            const Uv seen = adapted(uv(light, c), k, r), meant = uv(reference, c);
            const double w1 = lightness(seen), w2 = lightness(meant);
            const double du = 13 * (w1 * (seen.u - r.u) - w2 * (meant.u - r.u));
            const double dv = 13 * (w1 * (seen.v - r.v) - w2 * (meant.v - r.v));
            sum += 100 - 4.6 * std::sqrt(du * du + dv * dv + (w1 - w2) * (w1 - w2));
        }
        return sum / 8;
    }

private:
    struct Uv {
        double u, v, luminous;
    };
    Uv uv(const Samples& light, const Samples& colour) const {
        double tx = 0, ty = 0, tz = 0, white = 0;
        for (std::size_t i = 0; i < light.size(); ++i) {
            const double s = light[i] * (colour.empty() ? 1.0 : colour[i]);
            tx += s * x_[i];
            ty += s * y_[i];
            tz += s * z_[i];
            white += light[i] * y_[i];
        }
        const double down = tx + 15 * ty + 3 * tz;
        return {4 * tx / down, 6 * ty / down, 100 * ty / white};
    }
    static double c(Uv p) { return (4 - p.u - 10 * p.v) / p.v; }
    static double d(Uv p) { return (1.708 * p.v + 0.404 - 1.481 * p.u) / p.v; }
    static Uv adapted(Uv p, Uv from, Uv to) {
        const double cc = c(to) / c(from) * c(p), dd = d(to) / d(from) * d(p);
        const double down = 16.518 + 1.481 * cc - dd;
        return {(10.872 + 0.404 * cc - 4 * dd) / down, 5.520 / down, p.luminous};
    }
    static double lightness(Uv p) { return 25 * std::cbrt(p.luminous) - 17; }

    Samples x_, y_, z_;
    std::vector<Samples> colours_;
};

Samples samples(const Spectrum& s) {
    return {s.band.begin(), s.band.end()};
}
Spectrum reference_of(const Spectrum& light) {
    const Kelvin k = seen(light).cct;
    return k.value < 5000 ? blackbody(k) : daylight(k);
}

TEST(LampSpectra, RenderColoursAsTheirKindDoes) {
    const SpectralTable observer = spectral_table("cmf/CIE1931-2deg-XYZ.cmf");
    const SpectralTable colours = spectral_table("ref/CIE-TCS.sp");
    if (!observer.found() || !colours.found()) GTEST_SKIP() << "colord-data is not installed";

    // The procedure itself first, on the tables at 5 nm from 380 to 780 nm: F2 has an index of 64, F11 of 83 (CIE 15,
    // table of fluorescent lamps; from memory).
    const auto cut = [](const SpectralTable& t, const Samples& c) {
        Samples s;
        for (double nm = 380; nm <= 780; nm += 5) {
            const double at = (nm - t.from) / t.step(c);
            const auto i = std::min(static_cast<std::size_t>(at), c.size() - 2);
            s.push_back(c[i] + (at - static_cast<double>(i)) * (c[i + 1] - c[i]));
        }
        return s;
    };
    std::vector<std::string> names;
    for (const auto& [name, curve] : observer.curve) names.push_back(name);
    ASSERT_EQ(names.size(), 3U);
    std::vector<Samples> fine, coarse;
    for (const auto& [name, curve] : colours.curve) {
        fine.push_back(cut(colours, curve));
        coarse.push_back(samples(colours.bands_of(name)));
    }
    std::vector<Samples> xyz;
    for (const std::string& n : names) xyz.push_back(cut(observer, observer.curve.at(n)));
    const ColourRendering published(xyz[0], xyz[1], xyz[2], fine);
    const auto planck = [](double kelvin) {
        Samples s;
        for (double nm = 380; nm <= 780; nm += 5)
            s.push_back(std::pow(nm / 560, -5.0) / std::expm1(0.014388 / (nm * 1e-9 * kelvin)));
        return s;
    };
    for (const auto& [file, kelvin, index] :
         {std::tuple{"illuminant/CIE-F2.sp", 4224.7, 64.0}, std::tuple{"illuminant/CIE-F11.sp", 3998.7, 83.0}}) {
        const SpectralTable lamp = spectral_table(file);
        ASSERT_TRUE(lamp.found());
        EXPECT_NEAR(published.index(cut(lamp, lamp.curve.begin()->second), planck(kelvin)), index, 1.0) << file;
    }

    // Ours, in bands. One-hump white LEDs lie between 70 and 90, those of many phosphors over 92, three-band tubes
    // about 80 to 86: from memory of data sheets.
    const ColourRendering in_bands({x_bar.begin(), x_bar.end()}, {y_bar.begin(), y_bar.end()},
                                   {z_bar.begin(), z_bar.end()}, coarse);
    const auto index = [&](LightKind kind, double k) {
        const Spectrum light = *lamp_spectrum(kind, Kelvin{k});
        return in_bands.index(samples(light), samples(reference_of(light)));
    };
    for (const double k : {2700.0, 3200.0, 4300.0, 5600.0, 6500.0}) {
        EXPECT_GT(index(LightKind::white_led, k), 70) << k;
        EXPECT_LT(index(LightKind::white_led, k), 90) << k;
        EXPECT_GT(index(LightKind::wide_led, k), 92) << k;
        EXPECT_GT(index(LightKind::fluorescent, k), 74) << k;
        EXPECT_LT(index(LightKind::fluorescent, k), 90) << k;
    }
    EXPECT_GT(index(LightKind::tungsten, 3200), 99.5);
}

TEST(GreenGel, MovesOffTheLocusAndCostsWhatItSays) {
    for (const double k : {3200.0, 5600.0})
        for (const auto& [duv, stops] : {std::pair{0.020, 0.40}, std::pair{-0.020, 0.75}, std::pair{0.005, 0.10}}) {
            const Spectrum light = white_light(Kelvin{k});
            const Spectrum shares = green_gel(duv, std::exp2(-stops), light);
            const ColourTemperature before = seen(light), after = seen(shares * light);
            EXPECT_NEAR(after.duv - before.duv, duv, 2e-4);
            EXPECT_NEAR(after.cct.value, before.cct.value, 0.002 * k);
            EXPECT_NEAR(luminous_share(shares, light), std::exp2(-stops), 1e-4) << duv << " " << k;
            EXPECT_LE(shares.largest(), 1.0F);
        }
}

/// Luminance of a black body, all in proportion: ybar times Planck's law, by 5 nm.
double luminance_of(double kelvin) {
    double sum = 0;
    for (double nm = 405; nm < 720; nm += 5) {
        const auto b = static_cast<std::size_t>((nm - 400) / 20);
        sum += y_bar[b] * std::pow(nm, -5.0) / std::expm1(0.014388 / (nm * 1e-9 * kelvin));
    }
    return sum;
}

// Two outside laws: about 2,000 K at three stops down from 2,700 K (common practice, from memory), and Planck's: a
// filament is grey, so its light and its temperature are tied together; the lamp law keeps to that within half a stop.
TEST(Filament, GoesWarmAsItIsDimmed) {
    EXPECT_NEAR(dimmed_filament(Kelvin{2700}, 0.125).value, 2000, 120);
    EXPECT_DOUBLE_EQ(dimmed_filament(Kelvin{3200}, 1).value, 3200);
    for (const double stops : {1.0, 2.0, 3.0}) {
        const double k = dimmed_filament(Kelvin{3200}, std::exp2(-stops)).value;
        EXPECT_NEAR(std::log2(luminance_of(3200) / luminance_of(k)), stops, 0.5 * stops / 3 + 0.01);
    }
    EXPECT_GE(dimmed_filament(Kelvin{1200}, 0).value, 1000);
}

}  // namespace
}  // namespace rushlight
