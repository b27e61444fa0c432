// How a hair sends light on: no light made or lost, draws as dense as they say, lobes where they were measured.
#include "scene/surface/fibre.h"
#include "by_chance.h"
#include "quantity/units.h"

#include <functional>

namespace rushlight {
namespace {

using by_chance::even;

const Vec3 along(0, 0, 1);

/// At an angle to the cross-section and a turn round the fibre, degrees.
Vec3 direction(double slant, double turn) {
    const double s = slant * pi / 180, t = turn * pi / 180;
    return {static_cast<float>(std::cos(s) * std::cos(t)), static_cast<float>(std::cos(s) * std::sin(t)),
            static_cast<float>(std::sin(s))};
}

/// Over all directions, by the middles of equal steps.
double integral(const std::function<double(const Vec3&)>& f) {
    constexpr int sines = 1000, turns = 128;
    double sum = 0;
    for (int i = 0; i < sines; ++i)
        for (int j = 0; j < turns; ++j) {
            const double s = -1 + 2 * (i + 0.5) / sines, c = std::sqrt(1 - s * s), t = 2 * pi * (j + 0.5) / turns;
            sum += f({static_cast<float>(c * std::cos(t)), static_cast<float>(c * std::sin(t)), static_cast<float>(s)});
        }
    return sum * 4 * pi / (sines * turns);
}

// White furnace: a fibre that absorbs nothing looks as bright as an even surround (d'Eon et al., EGSR 2011, after whom
// the lengthwise lobe is made so). Checked by quadrature that knows nothing of the model.
TEST(Fibre, WithoutAbsorptionSendsOnAllLight) {
    const Fibre white{Spectrum{0.0F}};
    for (const double slant : {-70.0, -31.0, 0.0, 12.0, 50.0, 80.0}) {
        const Vec3 eye = direction(slant, 37);
        EXPECT_NEAR(integral([&](const Vec3& l) { return double(white.sent(along, eye, l)[5]); }), 1, 2e-3) << slant;
    }
}

TEST(Fibre, WithAbsorptionSendsOnItsShare) {
    for (const float absorption : {0.05F, 0.3F, 3.0F}) {
        const Fibre hair{Spectrum{absorption}};
        for (const double slant : {-40.0, 0.0, 65.0}) {
            const Vec3 eye = direction(slant, 200);
            const double share = hair.share(eye.z)[0];
            EXPECT_LT(share, 1);
            EXPECT_NEAR(integral([&](const Vec3& l) { return double(hair.sent(along, eye, l)[0]); }), share, 2e-3);
        }
    }
}

// The bare surface: Fresnel's mean over the width of a cylinder, by quadrature of the textbook formula.
TEST(Fibre, BlackestHairKeepsFresnelsShare) {
    const double n = 1.55;
    double mean = 0;
    constexpr int places = 2000;
    for (int i = 0; i < places; ++i) {
        const double h = (i + 0.5) / places, c = std::sqrt(1 - h * h), t = std::sqrt(1 - h * h / (n * n));
        const double s = (c - n * t) / (c + n * t), p = (n * c - t) / (n * c + t);
        mean += 0.5 * (s * s + p * p) / places;
    }
    EXPECT_NEAR(Fibre{Spectrum{60.0F}}.share(0)[0], mean, 0.02 * mean);
}

// Measured on hair (Marschner et al., SIGGRAPH 2003, from memory): scales lean the mirror lobe by 5 to 10 degrees to
// the root; light through the fibre goes on, on its far side; black hair has none of that.
TEST(Fibre, LobesLieWhereTheyWereMeasured) {
    const Fibre black{Spectrum{60.0F}}, clear{Spectrum{0.02F}};
    for (const double slant : {-20.0, 0.0, 25.0}) {
        const Vec3 eye = direction(slant, 0);
        const auto brightest = [&](const Fibre& f, double turn) {
            double best = 0, at = 0;
            for (double s = -60; s <= 60; s += 0.25)
                if (const double v = f.sent(along, eye, direction(s, turn))[0]; v > best) best = v, at = s;
            return at;
        };
        EXPECT_NEAR(brightest(black, 10), -slant - 5, 1) << "off the surface";
        EXPECT_NEAR(brightest(clear, 178), -slant + 2.5, 1.5) << "through";
        const double through = clear.sent(along, eye, direction(-slant, 180))[0];
        EXPECT_GT(through, 10 * clear.sent(along, eye, direction(-slant, 90))[0]);
        EXPECT_GT(through, 50 * black.sent(along, eye, direction(-slant, 180))[0]);
    }
}

// Helmholtz: to and fro alike where eye and light lie at the same slant, so that their losses inside are the same.
TEST(Fibre, IsReciprocalAtEqualSlants) {
    const Fibre hair{Spectrum{0.2F}};
    for (const double slant : {-50.0, -3.0, 0.0, 2.0, 30.0})
        for (const double turn : {5.0, 60.0, 120.0, 179.0}) {
            const Vec3 a = direction(slant, 10), b = direction(slant, 10 + turn);
            const double to = hair.sent(along, a, b)[3], fro = hair.sent(along, b, a)[3];
            EXPECT_NEAR(to, fro, 1e-3 * to + 1e-6);
        }
}

TEST(Fibre, DensityIsOneInAll) {
    for (const float absorption : {0.0F, 0.2F, 40.0F})
        for (const double slant : {-60.0, 0.0, 22.0, 75.0}) {
            const Fibre hair{Spectrum{absorption}};
            const Vec3 from = direction(slant, 90);
            EXPECT_NEAR(integral([&](const Vec3& to) { return double(hair.pdf(along, from, to)); }), 1, 2e-3);
        }
}

TEST(Fibre, DrawsAsDenselyAsItSays) {
    std::mt19937_64 r(11);
    constexpr int sines = 24, turns = 16, count = 60000;
    for (const float absorption : {0.02F, 0.7F})
        for (const double slant : {-35.0, 5.0, 70.0}) {
            const Fibre hair{Spectrum{absorption}};
            const Vec3 from = direction(slant, 0);
            std::array<double, sines * turns> met{}, expected{};
            constexpr int fine = 24;
            for (int i = 0; i < sines * fine; ++i)
                for (int j = 0; j < turns * fine; ++j) {
                    const double s = -1 + 2 * (i + 0.5) / (sines * fine), c = std::sqrt(1 - s * s);
                    const double t = -pi + 2 * pi * (j + 0.5) / (turns * fine);
                    const Vec3 to{static_cast<float>(c * std::cos(t)), static_cast<float>(c * std::sin(t)),
                                  static_cast<float>(s)};
                    expected[static_cast<std::size_t>(i / fine * turns + j / fine)] +=
                        double(hair.pdf(along, from, to)) * 4 * pi / (sines * turns * fine * fine) * count;
                }
            for (int k = 0; k < count; ++k) {
                const float u0 = even(r), u1 = even(r), u2 = even(r);
                const Vec3 to = hair.draw(along, from, u0, u1, u2);
                ASSERT_NEAR(to.length(), 1, 1e-4);
                const int i = std::clamp(static_cast<int>((to.z + 1) / 2 * sines), 0, sines - 1);
                const int j = std::clamp(static_cast<int>((std::atan2(to.y, to.x) / pi + 1) / 2 * turns), 0, turns - 1);
                met[static_cast<std::size_t>(i * turns + j)] += 1;
            }
            double chi2 = 0, few_met = 0, few_expected = 0;
            int cells = 0;
            for (std::size_t c = 0; c < met.size(); ++c) {
                if (expected[c] < 10) {
                    few_met += met[c];
                    few_expected += expected[c];
                    continue;
                }
                chi2 += (met[c] - expected[c]) * (met[c] - expected[c]) / expected[c];
                ++cells;
            }
            if (few_expected > 5) chi2 += (few_met - few_expected) * (few_met - few_expected) / few_expected, ++cells;
            ASSERT_GT(cells, 10);
            const double f = cells;  // Wilson and Hilferty
            const double sigmas = (std::cbrt(chi2 / f) - (1 - 2 / (9 * f))) / std::sqrt(2 / (9 * f));
            EXPECT_LT(sigmas, 4.5) << absorption << " at " << slant << ": chi-square " << chi2 << " over " << cells;
        }
}

// A deep tress of parallel fibres, walked through anew, sends back what absorption_for() was asked for: random walks
// with free paths as in a cloud of thin cylinders (the mean free path goes as one over the cosine to their
// cross-section).
TEST(Fibre, AThickTressSendsBackWhatWasAskedFor) {
    std::mt19937_64 r(5);
    const auto u = [&r] { return even(r); };
    for (const float wanted : {0.03F, 0.07F, 0.14F, 0.27F, 0.50F}) {
        const Fibre hair(absorption_for(Spectrum{wanted}));
        by_chance::Mean back;
        const Vec3 lying(1, 0, 0);
        for (int k = 0; k < 12000; ++k) {
            const float a = u(), turn = static_cast<float>(2 * pi) * u();
            Vec3 go(std::sqrt(a) * std::cos(turn), std::sqrt(a) * std::sin(turn), -std::sqrt(1 - a));
            float depth = 0;
            double weight = 1;
            while (weight > 0) {
                const float across = std::sqrt(std::max(1e-6F, 1 - go.x * go.x));
                depth += go.z * std::log(1 - u()) / across;
                if (depth < 0) break;
                const float u0 = u(), u1 = u(), u2 = u();
                const Vec3 to = hair.draw(lying, -go, u0, u1, u2);
                weight *= static_cast<double>(hair.sent(lying, -go, to)[0] / hair.pdf(lying, -go, to));
                go = to;
                if (weight < 0.05) weight = u() < 0.5F ? 2 * weight : 0;
            }
            back.add(weight);
        }
        EXPECT_LE(back.error(), 0.025 * static_cast<double>(wanted));
        EXPECT_NEAR(back.value(), wanted, 4 * back.error() + 0.015 * static_cast<double>(wanted));
    }
}

}  // namespace
}  // namespace rushlight
