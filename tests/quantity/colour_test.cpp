#include "quantity/colour.h"

#include "quantity/spectral_table.h"

#include <gtest/gtest.h>

#include <cmath>

namespace rushlight {
namespace {

// Sixteen bands see a smooth light a little off its 5 nm chromaticity: at most 0.0004 in x and y here
// (illuminant A), which is less than a fifth of the smallest difference seen side by side (from memory,
// 0.002). That is the tolerance wherever bands meet a finer table.
constexpr double band_tolerance = 0.0004;

Tristimulus from_uv(double u, double v) {
    const double sum = 6 / v, x = u * sum / 4;
    return {x, 1.0, (sum - x - 15) / 3};
}

TEST(Colour, PhotometricUnits) {
    for (const Spectrum& s : {blackbody(Kelvin{1200}), blackbody(Kelvin{3200}), daylight(Kelvin{5600}),
                              white_light(Kelvin{4400}), equal_energy()}) {
        EXPECT_NEAR(photometric(s), 1.0, 1e-5);
        EXPECT_NEAR(tristimulus(s).y, 1.0, 1e-5);
        EXPECT_NEAR(tristimulus(s * 250.0F).y, 250.0, 2.5e-3);
    }
}

TEST(Colour, BlackBodiesOfPlanck) {
    // Planck's law with c2 = 0.014388 m K summed over the CIE 1931 observer at 5 nm, 380 to 780 nm.
    const double rows[][3] = {{2700, .45986, .41061}, {2856, .44754, .40744}, {3200, .42337, .39896},
                              {4300, .36812, .36871}, {5600, .33021, .33912}, {6500, .31355, .32367}};
    for (const auto& [k, x, y] : rows) {
        const Chromaticity c = chromaticity(tristimulus(blackbody(Kelvin{k})));
        EXPECT_NEAR(c.x, x, band_tolerance) << k;
        EXPECT_NEAR(c.y, y, band_tolerance) << k;
    }
}

TEST(Colour, Illuminants) {
    // CIE 15: A (c2 of 1.435 stands for 2,848 K there, 2,856 K on today's scale), D50, D55, D65, E. The D
    // illuminants are nominal x 1.4388 / 1.4380.
    struct Row {
        Spectrum light;
        double x, y;
    };
    const Row rows[] = {{blackbody(Kelvin{2855.5}), .44758, .40745},
                        {daylight(Kelvin{5000 * 1.4388 / 1.4380}), .34567, .35851},
                        {daylight(Kelvin{5500 * 1.4388 / 1.4380}), .33243, .34744},
                        {daylight(Kelvin{6500 * 1.4388 / 1.4380}), .31272, .32903},
                        {equal_energy(), 1.0 / 3, 1.0 / 3}};
    for (const Row& r : rows) {
        const Chromaticity c = chromaticity(tristimulus(r.light));
        EXPECT_NEAR(c.x, r.x, band_tolerance);
        EXPECT_NEAR(c.y, r.y, band_tolerance);
    }
}

TEST(Colour, KelvinComesBack) {
    for (double k : {1000.0, 1500.0, 2000.0, 2700.0, 2856.0, 3200.0, 4000.0, 5600.0, 6504.0, 10'000.0, 25'000.0}) {
        const ColourTemperature back = colour_temperature(tristimulus(blackbody(Kelvin{k})));
        EXPECT_NEAR(back.cct.value / k, 1.0, 2e-5) << k;
        EXPECT_NEAR(back.duv, 0.0, 1e-5) << k;
    }
}

TEST(Colour, DaylightIsOnTheGreenSide) {
    // CCT and Duv of CIE D illuminants by search on the 5 nm locus: 5,002.2 K .0032, 5,503.1 K .0033,
    // 6,504.4 K .0032. Sixteen bands move x by .0002, which is 10 K at D65.
    const double rows[][3] = {{5002.9, 5002.2, .0032}, {5503.1, 5503.1, .0033}, {6503.6, 6504.4, .0032}};
    for (const auto& [nominal, cct, duv] : rows) {
        const ColourTemperature c = colour_temperature(tristimulus(daylight(Kelvin{nominal})));
        EXPECT_NEAR(c.cct.value, cct, 0.002 * cct);
        EXPECT_NEAR(c.duv, duv, 0.0001);
    }
    const ColourTemperature e = colour_temperature(tristimulus(equal_energy()));
    EXPECT_NEAR(e.cct.value, 5456.0, 0.002 * 5456);
    EXPECT_NEAR(e.duv, -.0044, 0.0001);
}

TEST(Colour, OhnosMethod) {
    // An open colour library's documented case: u .1978, v .3122 gives 6,507.43 K, Duv .003224. The locus of
    // sixteen bands lies 4 K away there; a locus cut at 380 nm, for comparison, 1.5 K.
    const ColourTemperature c = colour_temperature(from_uv(.1978, .3122));
    EXPECT_NEAR(c.cct.value, 6507.43, 5.0);
    EXPECT_NEAR(c.duv, .00322369, 0.0001);
}

TEST(Colour, OffsetsFromTheLocusComeBack) {
    // Geometry: a point moved square to the locus keeps its temperature and has the offset for its Duv.
    const auto locus = [](double k) {
        const Tristimulus t = tristimulus(blackbody(Kelvin{k}));
        const double sum = t.x + 15 * t.y + 3 * t.z;
        return std::pair{4 * t.x / sum, 6 * t.y / sum};
    };
    for (double k : {2000.0, 3200.0, 5600.0, 9000.0}) {
        const auto [u, v] = locus(k);
        const auto [u1, v1] = locus(k * 0.995);
        const auto [u2, v2] = locus(k * 1.005);
        const double length = std::hypot(u2 - u1, v2 - v1);
        // Towards 2,000 K u falls and v falls with k: the normal with rising v is the green side.
        const double nu = (v2 - v1) / length, nv = -(u2 - u1) / length;
        for (double duv : {-0.02, -0.005, -0.001, 0.001, 0.005, 0.02}) {
            const double sign = nv > 0 ? 1.0 : -1.0;
            const ColourTemperature c = colour_temperature(from_uv(u + sign * nu * duv, v + sign * nv * duv));
            EXPECT_NEAR(c.duv, duv, 1e-5) << k;
            EXPECT_NEAR(c.cct.value / k, 1.0, 1e-3) << k << " " << duv;
        }
    }
}

TEST(Colour, ColourTemperatureHasNoCliff) {
    EXPECT_EQ(colour_temperature(Tristimulus{}).cct.value, 0.0);
    EXPECT_NEAR(colour_temperature(tristimulus(blackbody(Kelvin{600}))).cct.value, 1000, 1e-9);
    EXPECT_GT(colour_temperature(tristimulus(blackbody(Kelvin{1e6}))).cct.value, 99'000);
    EXPECT_FALSE(blackbody(Kelvin{300}).dark());
}

TEST(Colour, WhiteLightSweepsWithoutAJump) {
    for (double k = 1500; k < 25'000; k *= 1.002) {
        const Spectrum a = white_light(Kelvin{k}), b = white_light(Kelvin{k * 1.002});
        for (int i = 0; i < bands; ++i) EXPECT_NEAR(b[i] / a[i], 1.0, 0.03) << k;
        const double ma = mired(colour_temperature(tristimulus(a)).cct).value;
        const double mb = mired(colour_temperature(tristimulus(b)).cct).value;
        EXPECT_LT(mb, ma) << k;
    }
    EXPECT_EQ(white_light(Kelvin{4000}), blackbody(Kelvin{4000}));
    EXPECT_EQ(white_light(Kelvin{5000}), daylight(Kelvin{5000}));
}

TEST(Colour, BradfordMatrices) {
    // ICC profile specification, annex E; the widely printed D65 to D50 matrix, and A to D65.
    const Tristimulus d65{95.047, 100, 108.883}, d50{96.422, 100, 82.521}, a{109.85, 100, 35.585};
    const Matrix to_d50{
        {{1.0478112, .0228866, -.0501270}, {.0295424, .9904844, -.0170491}, {-.0092345, .0150436, .7521316}}};
    const Matrix a_to_d65{
        {{.8446965, -.1179225, .3948108}, {-.1366303, 1.1041226, .1291718}, {.0798489, -.1348999, 3.1924009}}};
    const Matrix m1 = bradford(d65, d50), m2 = bradford(a, d65);
    for (std::size_t i = 0; i < 3; ++i) {
        for (std::size_t j = 0; j < 3; ++j) {
            EXPECT_NEAR(m1[i][j], to_d50[i][j], 1e-6);
            EXPECT_NEAR(m2[i][j], a_to_d65[i][j], 1e-6);
        }
    }
    const Triple white = m2 * Triple{a.x, a.y, a.z};
    EXPECT_NEAR(white[0], d65.x, 1e-9);
    EXPECT_NEAR(white[1], d65.y, 1e-9);
    EXPECT_NEAR(white[2], d65.z, 1e-9);
}

TEST(Colour, WhiteBalanceMakesItsWhiteGrey) {
    for (double k : {2700.0, 3200.0, 4300.0, 5600.0, 10'000.0}) {
        const LinearRgb white = WhiteBalance(Kelvin{k})(tristimulus(white_light(Kelvin{k}) * 250.0F));
        EXPECT_NEAR(white.r, 250, 0.01);
        EXPECT_NEAR(white.g, 250, 0.01);
        EXPECT_NEAR(white.b, 250, 0.01);
    }
    // Warmer light under a cooler balance looks red, cooler light blue.
    const LinearRgb warm = WhiteBalance(Kelvin{5600})(tristimulus(white_light(Kelvin{3200})));
    const LinearRgb cool = WhiteBalance(Kelvin{3200})(tristimulus(white_light(Kelvin{5600})));
    EXPECT_GT(warm.r, 1.5F * warm.b);
    EXPECT_GT(cool.b, 1.5F * cool.r);
}

TEST(Colour, Bt709Primaries) {
    // ITU-R BT.709: Y = 0.2126 R + 0.7152 G + 0.0722 B. A balance at D65 leaves XYZ all but untouched, so
    // each primary must come out alone.
    const WhiteBalance d65(Kelvin{6504});
    const LinearRgb red = d65({.4124, .2126, .0193}), green = d65({.3576, .7152, .1192}),
                    blue = d65({.1805, .0722, .9505});
    const double tolerance = 0.005;  // the sixteen-band D65 lies .0002 in x and y from BT.709's white
    EXPECT_NEAR(red.r, 1, tolerance);
    EXPECT_NEAR(red.g, 0, tolerance);
    EXPECT_NEAR(red.b, 0, tolerance);
    EXPECT_NEAR(green.g, 1, tolerance);
    EXPECT_NEAR(green.r, 0, tolerance);
    EXPECT_NEAR(green.b, 0, tolerance);
    EXPECT_NEAR(blue.b, 1, tolerance);
    EXPECT_NEAR(blue.r, 0, tolerance);
    EXPECT_NEAR(blue.g, 0, tolerance);
}

TEST(Colour, SrgbEncoding) {
    // IEC 61966-2-1: 0.18 encodes to 0.4614, the straight part ends at 0.0031308.
    EXPECT_FLOAT_EQ(srgb_encoded(0.0F), 0.0F);
    EXPECT_FLOAT_EQ(srgb_encoded(1.0F), 1.0F);
    EXPECT_NEAR(srgb_encoded(0.18F), 0.46136, 1e-4);
    EXPECT_NEAR(srgb_encoded(0.0031308F), 0.04045, 1e-5);
    EXPECT_NEAR(srgb_encoded(0.0031309F), srgb_encoded(0.0031307F), 1e-5);
    EXPECT_EQ(srgb_encoded(-0.3F), 0.0F);
    EXPECT_EQ(srgb_encoded(7.0F), 1.0F);
    EXPECT_EQ(srgb_encoded(NAN), 0.0F);
}

// The tables of the colord-data package, read where it is installed.

TEST(ColourTables, ObserverInBands) {
    // ISO/CIE 11664-1: the 5 nm observer, each band by the trapezium rule, tails in the end bands.
    const SpectralTable observer = spectral_table("cmf/CIE1931-2deg-XYZ.cmf");
    if (!observer.found()) GTEST_SKIP() << "colord-data is not installed";
    const std::array<double, bands>* bars[] = {&x_bar, &y_bar, &z_bar};
    for (int i = 0; i < 3; ++i) {
        const auto& curve = observer.curve.at(std::to_string(i));
        for (int b = 0; b < bands; ++b) {
            const double low = b == 0 ? 360 : first_band_from + band_width * b;
            const double high = b == bands - 1 ? 830 : first_band_from + band_width * (b + 1);
            EXPECT_NEAR((*bars[i])[static_cast<std::size_t>(b)], observer.integral(curve, low, high), 1.01e-5);
        }
    }
}

TEST(ColourTables, D65BandByBand) {
    // ISO/CIE 11664-2, illuminant D65.
    const SpectralTable table = spectral_table("illuminant/CIE-D65.sp");
    if (!table.found()) GTEST_SKIP() << "colord-data is not installed";
    const Spectrum want = scaled_to(table.bands_of("0"), 1.0), got = daylight(Kelvin{6503.6});
    for (int b = 0; b < bands; ++b) EXPECT_NEAR(got[b] / want[b], 1.0, 0.001) << b;
}

TEST(ColourTables, MeasuredLightInBands) {
    // CIE 15: published chromaticities. C climbs from a third to full height within the two violet bands,
    // where a band's mean says least: it moves by .0010 in y.
    struct Row {
        const char* file;
        double x, y, tolerance;
    };
    const Row rows[] = {{"illuminant/CIE-A.sp", .44758, .40745, band_tolerance},
                        {"illuminant/CIE-C.sp", .31006, .31616, 0.0011},
                        {"illuminant/CIE-D50.sp", .34567, .35851, band_tolerance},
                        {"illuminant/CIE-D65.sp", .31272, .32903, band_tolerance}};
    for (const Row& r : rows) {
        const SpectralTable table = spectral_table(r.file);
        if (!table.found()) GTEST_SKIP() << "colord-data is not installed";
        const Chromaticity c = chromaticity(tristimulus(table.bands_of("0")));
        EXPECT_NEAR(c.x, r.x, r.tolerance) << r.file;
        EXPECT_NEAR(c.y, r.y, r.tolerance) << r.file;
    }
}

// CIE 13 test colours, two of them skins: XYZ by 5 nm sums of the package's tables, perfect white 100.
struct TestColour {
    const char* name;
    bool d65;  // else illuminant A
    double x, y, z;
};

Tristimulus in_bands(const SpectralTable& samples, const TestColour& c) {
    const Spectrum light = c.d65 ? daylight(Kelvin{6503.6}) : blackbody(Kelvin{2855.5});
    return tristimulus(samples.bands_of(c.name) * light * 100.0F);
}

TEST(ColourTables, GreyAndSkinInDaylight) {
    const SpectralTable samples = spectral_table("ref/CIE-TCS.sp");
    if (!samples.found()) GTEST_SKIP() << "colord-data is not installed";
    const double rounding = 0.005;  // of the references above
    for (const TestColour& c : {TestColour{"TCS01", true, 33.02, 29.88, 24.59},
                                {"TCS13", true, 58.98, 57.17, 41.33},
                                {"TCS15", true, 34.98, 32.72, 24.46}}) {
        const Tristimulus t = in_bands(samples, c);
        EXPECT_NEAR(t.x, c.x, 0.003 * c.x + rounding) << c.name;
        EXPECT_NEAR(t.y, c.y, 0.003 * c.y + rounding) << c.name;
        EXPECT_NEAR(t.z, c.z, 0.003 * c.z + rounding) << c.name;
    }
}

TEST(ColourTables, WhatTwentyNanometresCost) {
    // A curve that is steep within a band, under light that is steep there too, shows the width of the bands.
    // Measured: skin by lamplight within .65 % (a hundredth of a stop), a saturated red 2.3 %. A meter shows
    // tenths of a stop (common practice, no source): a hundredth and a twentieth are allowed.
    const SpectralTable samples = spectral_table("ref/CIE-TCS.sp");
    if (!samples.found()) GTEST_SKIP() << "colord-data is not installed";
    const auto stops_off = [](double got, double want) { return std::abs(std::log2(got / want)); };
    for (const TestColour& c :
         {TestColour{"TCS13", false, 75.05, 61.39, 13.76}, {"TCS15", false, 46.18, 35.53, 8.28}}) {
        const Tristimulus t = in_bands(samples, c);
        EXPECT_LT(stops_off(t.x, c.x), 0.01) << c.name;
        EXPECT_LT(stops_off(t.y, c.y), 0.01) << c.name;
        EXPECT_LT(stops_off(t.z, c.z), 0.01) << c.name;
    }
    const TestColour red{"TCS09", true, 20.60, 11.25, 4.34};
    const Tristimulus t = in_bands(samples, red);
    EXPECT_LT(stops_off(t.x, red.x), 0.05);
    EXPECT_LT(stops_off(t.y, red.y), 0.05);
    EXPECT_LT(stops_off(t.z, red.z), 0.05);
}

}  // namespace
}  // namespace rushlight
