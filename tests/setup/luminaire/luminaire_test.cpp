// Photometric files against closed forms, and the same lamp written in every way that the formats allow.
#include "setup/luminaire/luminaire.h"

#include "luminaire_text.h"
#include "setup/text/where.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numeric>
#include <random>

namespace rushlight {
namespace {

using namespace luminaire_text;

Luminaire lm63(const Lm63& file) {
    return luminaire_from_text(file.text(), "f.ies");
}
Luminaire eulumdat(const Eulumdat& file) {
    return luminaire_from_text(file.text(), "f.ldt");
}

Lm63 even_round(std::vector<double> vertical, Distribution candela) {
    Lm63 f;
    f.vertical = std::move(vertical);
    f.candela = std::move(candela);
    return f;
}

/// Largest difference of two tables over random directions, as a share of the peak.
double apart(const IntensityTable& a, const IntensityTable& b) {
    std::mt19937_64 random(5);
    const auto even = [&] { return static_cast<double>(random() >> 11) * 0x1p-53; };
    double most = 0;
    for (int i = 0; i < 20'000; ++i) {
        const double z = 2 * even() - 1, turn = 2 * pi * even(), s = std::sqrt(1 - z * z);
        const Vec3 d(static_cast<float>(s * std::cos(turn)), static_cast<float>(s * std::sin(turn)),
                     static_cast<float>(z));
        most = std::max(most, static_cast<double>(std::abs(a.candela(d) - b.candela(d))));
    }
    return most / a.peak();
}

// Lambert I = 1000 cos g read straight between its angles and integrated exactly: closed form by steps of 1 to 15
// degrees; the smooth curve has 1000 pi = 3141.593 (Lambert, Photometria, 1760).
TEST(LuminaireFlux, LambertByStep) {
    const std::pair<double, double> cases[] = {
        {1, 3141.513}, {2.5, 3141.094}, {5, 3139.597}, {10, 3133.593}, {15, 3123.525}};
    for (const auto& [step, want] : cases)
        EXPECT_NEAR(lm63(even_round(steps(0, 90, step), [](double v, double) { return 1000 * cosine(v); })).lumens,
                    want, 6e-4)
            << step;
}

// I = I0 cos^m: flux 2 pi I0 / (m + 1), half of the peak at acos(2^(-1/m)), a tenth at acos(10^(-1/m)).
TEST(LuminaireFlux, PowersOfTheCosine) {
    struct Power {
        double m, beam, field;
    };
    for (const Power& p :
         {Power{1, 120.00, 168.52}, Power{4, 65.53, 111.56}, Power{20, 30.00, 53.94}, Power{100, 13.48, 24.50}}) {
        const Luminaire l = lm63(even_round(
            steps(0, 90, 0.25), [&](double v, double) { return 5000 * std::pow(std::max(0.0, cosine(v)), p.m); }));
        EXPECT_NEAR(l.lumens / (2 * pi * 5000 / (p.m + 1)), 1.0, 2e-4) << p.m;
        for (const double wide : {l.beam.along, l.beam.across}) EXPECT_NEAR(wide, p.beam, 0.01) << p.m;
        for (const double wide : {l.field.along, l.field.across}) EXPECT_NEAR(wide, p.field, 0.01) << p.m;
        EXPECT_FALSE(l.shines_back);
    }
}

// Zonal constants 2 pi (cos a - cos b) of ten-degree zones (IES lighting handbook): the flux of even light in a zone.
TEST(LuminaireFlux, ZonalConstants) {
    const double constants[] = {.0955, .2835, .4629, .6282, .7744, .8972, .9926, 1.0579, 1.0911};
    const IntensityTable one = lm63(even_round(steps(0, 90, 10), [](double, double) { return 1; })).intensity;
    for (std::size_t i = 0; i < 9; ++i) EXPECT_NEAR(one.cell_flux(i, 0), constants[i], 5e-5) << i;
    EXPECT_NEAR(one.flux(), 2 * pi, 1e-6);
}

// Three values at 0, 45, 90 degrees, straight between: 2945.927 lm (closed form).
TEST(LuminaireFlux, ThreeValues) {
    const Luminaire l = lm63(even_round({0, 45, 90}, [](double v, double) { return v < 1 ? 1000 : v < 46 ? 700 : 0; }));
    EXPECT_NEAR(l.lumens, 2945.927, 1e-3);
    const double a = radians(Degree{30});
    EXPECT_NEAR(l.intensity.candela({static_cast<float>(std::sin(a)), 0, static_cast<float>(std::cos(a))}), 800, 0.01);
}

// What is used: candela times multiplier times ballast factor times ballast-lamp factor (through the edition of 2002),
// never times lamps or lumens.
TEST(LuminaireFlux, FactorsByEdition) {
    Lm63 f = even_round(steps(0, 90, 5), [](double v, double) { return 1000 * cosine(v); });
    const double plain_lumens = lm63(f).lumens;
    f.lumens = 9000;
    f.multiplier = 2;
    f.ballast = 0.9;
    f.ballast_lamp = 0.8;
    for (const char* edition : {"", "IESNA91", "IESNA:LM-63-1995", "IESNA:LM-63-2002"}) {
        f.first = edition;
        EXPECT_NEAR(lm63(f).lumens / plain_lumens, 2 * 0.9 * 0.8, 1e-5) << edition;
    }
    f.first = "IES:LM-63-2019";
    EXPECT_NEAR(lm63(f).lumens / plain_lumens, 2 * 0.9, 1e-5);
    EXPECT_EQ(lm63(f).format, "LM-63-2019, type C");
}

/// Brighter along plane 0 than across it, the same in all four quadrants.
double quadrants(double v, double h) {
    return 1000 * std::max(0.0, cosine(v)) * (1 + 0.5 * cosine(2 * h)) + 10;
}
/// Mirrored about the plane 0-180 only, and about 90-270 only.
double about_0(double v, double h) {
    return quadrants(v, h) * (1 + 0.3 * cosine(h));
}
double about_90(double v, double h) {
    return about_0(v, h - 90);
}

TEST(LuminaireSymmetry, EveryWayOfWritingOneLamp) {
    Lm63 whole = even_round(steps(0, 180, 10), quadrants);
    whole.horizontal = steps(0, 360, 15);
    Lm63 half = whole, quarter = whole, other_half = whole;
    half.horizontal = steps(0, 180, 15);
    quarter.horizontal = steps(0, 90, 15);
    other_half.horizontal = steps(90, 270, 15);
    const Luminaire all = lm63(whole);
    for (const Lm63& f : {half, quarter, other_half}) {
        EXPECT_LT(apart(all.intensity, lm63(f).intensity), 1e-5);
        EXPECT_NEAR(lm63(f).lumens / all.lumens, 1.0, 1e-6);
    }
    EXPECT_GT(all.beam.along, all.beam.across + 10);

    Lm63 lopsided = whole, lopsided_half = half;
    lopsided.candela = lopsided_half.candela = about_0;
    EXPECT_LT(apart(lm63(lopsided).intensity, lm63(lopsided_half).intensity), 1e-5);
    EXPECT_GT(apart(all.intensity, lm63(lopsided).intensity), 0.1);
    lopsided.candela = other_half.candela = about_90;
    EXPECT_LT(apart(lm63(lopsided).intensity, lm63(other_half).intensity), 1e-5);
}

TEST(LuminaireSymmetry, EverySymmetryOfEulumdat) {
    const std::vector<double> all = steps(0, 345, 15), gamma = steps(0, 180, 10);
    const auto file = [&](int symmetry, std::vector<double> written, Distribution candela) {
        Eulumdat f;
        f.symmetry = symmetry;
        f.all_planes = all;
        f.written_planes = std::move(written);
        f.gamma = gamma;
        f.lumens = 2000;
        f.candela = std::move(candela);
        return eulumdat(f).intensity;
    };
    EXPECT_LT(apart(file(0, all, quadrants), file(4, steps(0, 90, 15), quadrants)), 1e-5);
    EXPECT_LT(apart(file(0, all, quadrants), file(2, steps(0, 180, 15), quadrants)), 1e-5);
    EXPECT_LT(apart(file(0, all, about_0), file(2, steps(0, 180, 15), about_0)), 1e-5);
    // Written from C270 over C0 to C90.
    EXPECT_LT(apart(file(0, all, about_90), file(3, steps(270, 450, 15), about_90)), 1e-5);
    EXPECT_GT(apart(file(0, all, about_0), file(3, steps(270, 450, 15), about_90)), 0.1);
    const auto even = [](double v, double) { return 100 + v; };
    EXPECT_LT(apart(file(0, all, even), file(1, {0}, even)), 1e-5);
}

// The length of the opening runs along plane 0 in LM-63 and along C90 in EULUMDAT (from memory): a lamp that is bright
// along its length is the same lamp.
TEST(LuminaireSymmetry, BothFormatsAgree) {
    Lm63 f = even_round(steps(0, 180, 5), about_0);
    f.horizontal = steps(0, 360, 15);
    f.length = 0.6;
    f.width = 0.3;
    Eulumdat g;
    g.symmetry = 0;
    g.all_planes = g.written_planes = steps(0, 345, 15);
    g.gamma = f.vertical;
    g.candela = [](double v, double h) { return about_0(v, h - 90); };
    const Luminaire a = lm63(f), b = eulumdat(g);
    EXPECT_LT(apart(a.intensity, b.intensity), 1e-5);
    EXPECT_NEAR(a.beam.along, b.beam.along, 0.01);
    EXPECT_DOUBLE_EQ(a.opening.length, b.opening.length);
    EXPECT_DOUBLE_EQ(a.opening.width, b.opening.width);
}

// The same beam in spherical coordinates of another pole: type B has right = sin H, up = cos H sin V; type A has
// up = sin V, right = cos V sin H (definitions of the types: LM-63, from memory).
TEST(LuminaireTypes, AAndBAgainstC) {
    const auto beam = [](double right, double up, double forward) {
        return forward <= 0 ? 0 : 8000 * std::pow(forward, 12) * (1 + 0.5 * right + 0.25 * up);
    };
    const auto sine = [](double a) { return std::sin(radians(Degree{a})); };
    Lm63 c = even_round(steps(0, 90, 1),
                        [&](double v, double h) { return beam(-sine(v) * cosine(h), -sine(v) * sine(h), cosine(v)); });
    c.horizontal = steps(0, 360, 2);
    Lm63 b = even_round(steps(-90, 90, 1),
                        [&](double v, double h) { return beam(sine(h), cosine(h) * sine(v), cosine(h) * cosine(v)); });
    b.type = 2;
    b.horizontal = steps(-90, 90, 1);
    Lm63 a = b;
    a.type = 3;
    a.candela = [&](double v, double h) { return beam(cosine(v) * sine(h), sine(v), cosine(v) * cosine(h)); };
    const Luminaire lc = lm63(c), lb = lm63(b), la = lm63(a);
    EXPECT_LT(apart(lc.intensity, lb.intensity), 0.002);
    EXPECT_LT(apart(lc.intensity, la.intensity), 0.002);
    // The odd parts cancel: 2 pi I0 / 13.
    for (const Luminaire* l : {&lc, &lb, &la}) EXPECT_NEAR(l->lumens / (2 * pi * 8000 / 13), 1.0, 1e-3);
    EXPECT_EQ(lb.format, "LM-63-2002, type B");
    EXPECT_EQ(la.format, "LM-63-2002, type A");
    // As seen from behind, across runs to the left.
    EXPECT_GT(lb.intensity.candela(Vec3(-0.3F, 0, 1).normalized()),
              1.2F * lb.intensity.candela(Vec3(0.3F, 0, 1).normalized()));
    EXPECT_GT(la.intensity.candela(Vec3(0, 0.3F, 1).normalized()),
              1.1F * la.intensity.candela(Vec3(0, -0.3F, 1).normalized()));
}

TEST(LuminaireTypes, ListsThatStartAtZeroAreMirrored) {
    const auto even = [](double v, double h) { return 100 * std::max(0.0, cosine(v) * cosine(h)); };
    for (const int type : {2, 3}) {
        Lm63 whole = even_round(steps(-90, 90, 5), even);
        whole.type = type;
        whole.horizontal = steps(-90, 90, 5);
        Lm63 quarter = whole;
        quarter.vertical = quarter.horizontal = steps(0, 90, 5);
        EXPECT_LT(apart(lm63(whole).intensity, lm63(quarter).intensity), 1e-5);
    }
}

// Outside its angles a table is dark; up-lights have theirs behind the aim.
TEST(LuminaireTypes, UpLight) {
    const Luminaire up =
        lm63(even_round(steps(90, 180, 5), [](double v, double) { return 1000 * std::max(0.0, -cosine(v)); }));
    EXPECT_TRUE(up.shines_back);
    EXPECT_EQ(up.intensity.candela({0.1F, 0, 0.99F}), 0);
    EXPECT_NEAR(up.intensity.candela({0, 0, -1}), 1000, 1e-3);
    EXPECT_NEAR(up.lumens, 3139.597, 6e-4);
    EXPECT_NEAR(up.beam.along, 120, 0.1);
    EXPECT_TRUE(up.remarks.empty());
}

TEST(LuminaireTilt, TableInTheFile) {
    Lm63 f = even_round(steps(0, 90, 5), [](double v, double) { return 1000 * cosine(v); });
    f.tilt = "TILT=INCLUDE\n1\n3\n0 45 90\n1.0 0.95 0.8";
    const Luminaire l = lm63(f);
    EXPECT_DOUBLE_EQ(l.tilt_share(0), 1.0);
    EXPECT_NEAR(l.tilt_share(22.5), 0.975, 1e-12);
    EXPECT_NEAR(l.tilt_share(60), 0.9, 1e-12);
    EXPECT_DOUBLE_EQ(l.tilt_share(120), 0.8);
    EXPECT_NEAR(l.lumens, 3139.597, 6e-4);  // straight down
    f.tilt = "TILT=NONE";
    EXPECT_DOUBLE_EQ(lm63(f).tilt_share(60), 1.0);
}

TEST(LuminaireTilt, TableInAFileBesideIt) {
    const Luminaire l = read_luminaire(std::string(RUSHLIGHT_SOURCE) + "/tests/setup/luminaires/tilt-beside.ies");
    EXPECT_NEAR(l.tilt_share(30), 0.9, 1e-12);
}

// 1 ft = 0.3048 m exactly (NIST SP 811). Negative sizes are round.
TEST(LuminaireOpening, FeetAndMetres) {
    Lm63 f = even_round(steps(0, 90, 5), [](double v, double) { return 1000 * cosine(v); });
    f.units = 1;
    f.length = 4;
    f.width = 0.5;
    EXPECT_DOUBLE_EQ(lm63(f).opening.length, 1.2192);
    EXPECT_DOUBLE_EQ(lm63(f).opening.width, 0.1524);
    EXPECT_FALSE(lm63(f).opening.round);
    f.units = 2;
    f.length = f.width = -0.15;
    EXPECT_TRUE(lm63(f).opening.round);
    EXPECT_DOUBLE_EQ(lm63(f).opening.length, 0.15);
    f.length = f.width = 0;
    EXPECT_FALSE(lm63(f).opening.given());
    // Feet do not change the light.
    EXPECT_NEAR(lm63(f).lumens, 3139.597, 6e-4);
}

TEST(LuminaireOpening, OfEulumdatInMillimetres) {
    Eulumdat f;
    f.gamma = steps(0, 90, 5);
    f.candela = [](double v, double) { return 1000 * cosine(v); };
    f.lumens = 4000;
    f.conversion = 0.5;
    for (const bool commas : {false, true}) {
        f.decimal_commas = commas;
        const Luminaire l = eulumdat(f);
        EXPECT_DOUBLE_EQ(l.opening.length, 0.6);
        EXPECT_DOUBLE_EQ(l.opening.width, 0.3);
        EXPECT_NEAR(l.lumens, 3139.597, 2e-3);
        EXPECT_DOUBLE_EQ(l.lamp_lumens, 2000);
        EXPECT_DOUBLE_EQ(l.watts, 60);
        EXPECT_EQ(l.colour, "neutral");
    }
    f.lamps = -1;  // absolute photometry: its lumens are the luminaire's
    EXPECT_NEAR(eulumdat(f).lumens, 3139.597, 2e-3);
}

// However it was saved, it is the same file.
TEST(LuminaireText, LineEndsMarksAndSeparators) {
    Lm63 f = even_round(steps(0, 90, 7.5), [](double v, double) { return 1000 * cosine(v); });
    f.horizontal = steps(0, 90, 22.5);
    const std::string text = f.text();
    const IntensityTable plain = lm63(f).intensity;
    const auto with = [&](char from, const std::string& to) {
        std::string s;
        for (const char c : text) s += c == from ? to : std::string(1, c);
        return s;
    };
    for (const std::string& s :
         {with('\n', "\r\n"), with('\n', "\r"), "\xEF\xBB\xBF" + text, with(' ', "\t"), with(' ', " , "),
          with(' ', ","), text + "\x1A", with(' ', "\n"), "\n\n" + text, with('t', "\xFC")}) {
        const std::string numbers = s.substr(s.find("TILT") == std::string::npos ? 0 : 0);
        EXPECT_LT(apart(plain, luminaire_from_text(numbers, "f.ies").intensity), 1e-6) << s.substr(0, 60);
    }
    const std::size_t head = text.find("TILT=NONE");
    std::string commas = text.substr(head);
    for (char& c : commas)
        if (c == '.') c = ',';
    const Luminaire l = luminaire_from_text(text.substr(0, head) + commas, "f.ies");
    EXPECT_LT(apart(plain, l.intensity), 1e-6);
    EXPECT_EQ(l.remarks, std::vector<std::string>{"commas stand for decimal points in its numbers"});
}

}  // namespace
}  // namespace rushlight
