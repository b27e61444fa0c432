// Fresnel and pane formulas against worked tables; every kind of surface against what any surface must obey:
// reciprocity, no gain of light, and a choice of directions that is what it says it is.
#include "scene/surface/surface.h"

#include "by_chance.h"
#include "quantity/units.h"
#include "scene/surface/finishes.h"
#include "setup/plain/catalogues.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <random>

namespace rushlight {
namespace {

using namespace by_chance;
using namespace finishes;

// Fresnel's equations, n = 1.5, worked twice in double from the textbook form; Brewster's angle atan(1.5) = 56.3099.
TEST(Fresnel, DielectricTable) {
    const std::array<std::array<double, 2>, 7> table{
        {{0, 0.04000}, {30, 0.04152}, {45, 0.05024}, {56.3099, 0.07396}, {60, 0.08919}, {75, 0.25306}, {85, 0.61280}}};
    for (const auto& [angle, reflected] : table)
        EXPECT_NEAR(fresnel_dielectric(static_cast<float>(std::cos(radians(Degree{angle}))), 1.5F), reflected, 1e-5)
            << angle << " degrees";
    EXPECT_NEAR(fresnel_dielectric(0.0F, 1.5F), 1.0, 1e-6);
    EXPECT_NEAR(fresnel_dielectric(1.0F, 1.33F), 0.02006, 1e-5);
}

// Mean over a diffuse hemisphere: .09178 for n = 1.5, .06593 for water (Walsh's formula; confirmed by quadrature).
TEST(Fresnel, HemisphericalMean) {
    const auto mean = [](float index) {
        double sum = 0;
        constexpr int steps = 20'000;
        for (int i = 0; i < steps; ++i)
            sum += static_cast<double>(fresnel_dielectric(static_cast<float>(std::sqrt((i + 0.5) / steps)), index));
        return sum / steps;
    };
    EXPECT_NEAR(mean(1.5F), 0.09178, 3e-5);
    EXPECT_NEAR(mean(1.33F), 0.06593, 3e-5);
}

// Incoherent clear pane, all bounces, per polarisation (optics texts): T = (1 - R) / (1 + R) without absorption,
// T = (1 - R)^2 t / (1 - R^2 t^2) with it.
TEST(Pane, TransmittanceTables) {
    const std::array<std::array<double, 2>, 7> clear{
        {{0, 0.92308}, {30, 0.92073}, {45, 0.90734}, {56.3099, 0.87113}, {60, 0.84813}, {75, 0.61815}, {85, 0.24693}}};
    for (const auto& [angle, passed] : clear) {
        const PaneShares s = pane_shares(static_cast<float>(std::cos(radians(Degree{angle}))), 1.5F, 1.0F);
        EXPECT_NEAR(s.transmitted, passed, 1e-5) << angle << " degrees";
        EXPECT_NEAR(s.transmitted + s.reflected, 1.0, 2e-6) << angle << " degrees";
    }
    const std::array<std::array<double, 2>, 5> absorbing{
        {{0, 0.87225}, {30, 0.86734}, {45, 0.85131}, {60, 0.79112}, {75, 0.56999}}};
    for (const auto& [angle, passed] : absorbing) {
        const PaneShares s = pane_shares(static_cast<float>(std::cos(radians(Degree{angle}))), 1.52F, 0.95F);
        EXPECT_NEAR(s.transmitted, passed, 1e-5) << angle << " degrees";
        EXPECT_LT(s.transmitted + s.reflected, 1.0F);
    }
}

// Diffuse transmittance of the clear pane of n = 1.5: .85094 (quadrature of the formula above).
TEST(Pane, DiffuseTransmittance) {
    double sum = 0;
    constexpr int steps = 20'000;
    for (int i = 0; i < steps; ++i)
        sum +=
            static_cast<double>(pane_shares(static_cast<float>(std::sqrt((i + 0.5) / steps)), 1.5F, 1.0F).transmitted);
    EXPECT_NEAR(sum / steps, 0.85094, 3e-5);
}

// The inverse, there and back; a pane cannot pass more than its two faces let it.
TEST(Pane, TransmittanceForWantedTotal) {
    for (const float index : {1.33F, 1.52F, 1.9F})
        for (const float wanted : {1e-6F, 1e-3F, 0.01F, 0.2F, 0.5F, 0.8F, 0.81F}) {
            const float inside = pane_transmittance_for(wanted, index);
            EXPECT_NEAR(pane_shares(1.0F, index, inside).transmitted / wanted, 1.0, 1e-5) << wanted << ", " << index;
        }
    EXPECT_EQ(pane_transmittance_for(0.0F, 1.52F), 0.0F);
    EXPECT_EQ(pane_transmittance_for(0.99F, 1.52F), 1.0F);
}

// --- every kind of surface ------------------------------------------------------------------------------

struct Kind {
    const char* name;
    Finish finish;
};

// All that a smooth black varnish sends back, by draws on a grid, against Fresnel's equations for n = 1.5 (optics
// texts; R = (sin^2(i - t) / sin^2(i + t) + tan^2(i - t) / tan^2(i + t)) / 2).
TEST(Surface, AClearCoatMirrorsFresnelsShare) {
    const Surface varnish(coated(0.0F, 0.04F, 0.02F));
    for (const double degrees : {20.0, 45.0, 56.31, 70.0}) {
        const double i = degrees * pi / 180, t = std::asin(std::sin(i) / 1.5);
        const double expected =
            (std::pow(std::sin(i - t) / std::sin(i + t), 2) + std::pow(std::tan(i - t) / std::tan(i + t), 2)) / 2;
        const Vec3 from(static_cast<float>(std::sin(i)), 0, static_cast<float>(std::cos(i)));
        double sum = 0;
        constexpr int steps = 64;
        for (int a = 0; a < steps; ++a)
            for (int b = 0; b < steps; ++b)
                if (const auto bounced = varnish.bounce(Vec3(0, 0, 1), from, (static_cast<float>(a) + 0.5F) / steps,
                                                        (static_cast<float>(b) + 0.5F) / steps, 0.5F))
                    sum += static_cast<double>(bounced->weight[8]) / (steps * steps);
        EXPECT_NEAR(sum, expected, 0.01 * expected) << degrees;
    }
}

/// Directions by polar angle about the mirror direction, closer together near it: `t` and `s` in 0..1, and
/// the solid angle of a step of one in each.
struct AboutMirror {
    Frame frame;
    explicit AboutMirror(const Vec3& from) : frame(Vec3(-from.x, -from.y, from.z)) {}
    static double angle(double t) { return pi * t * t * t; }
    static double t_of(double angle) { return std::cbrt(angle / pi); }
    Vec3 toward(double t, double s) const {
        const double a = angle(t);
        return frame.to_place({static_cast<float>(std::sin(a) * std::cos(2 * pi * s)),
                               static_cast<float>(std::sin(a) * std::sin(2 * pi * s)),
                               static_cast<float>(std::cos(a))});
    }
    static double solid_angle(double t) { return 2 * pi * std::sin(angle(t)) * 3 * pi * t * t; }
};

class AnySurface : public testing::TestWithParam<Kind> {
protected:
    Surface surface{GetParam().finish.pane ? Surface::of_rounded(GetParam().finish) : Surface(GetParam().finish)};
    const Vec3 up{0, 0, 1};
    static Vec3 from_at(double degrees_off) {
        const double a = radians(Degree{degrees_off});
        return {static_cast<float>(std::sin(a)), 0, static_cast<float>(std::cos(a))};
    }
    static constexpr std::array<double, 5> angles{0.0, 25.0, 50.0, 72.0, 84.0};
    /// Share sent anywhere but straight on, by quadrature.
    double albedo(const Vec3& from) const {
        const AboutMirror about(from);
        constexpr int steps = 900, spokes = 240;
        double sum = 0;
        for (int i = 0; i < steps; ++i)
            for (int j = 0; j < spokes; ++j) {
                const double t = (i + 0.5) / steps;
                const Vec3 to = about.toward(t, (j + 0.5) / spokes);
                sum += static_cast<double>(surface.scattered(up, from, to)[3]) * std::abs(static_cast<double>(to.z)) *
                       AboutMirror::solid_angle(t);
            }
        return sum / (steps * spokes);
    }
    double straight(const Vec3& from) const {
        return surface.veil() ? static_cast<double>(surface.straight_at(from.z)[3]) : 0.0;
    }
};

// Helmholtz reciprocity.
TEST_P(AnySurface, ScattersAlikeBothWays) {
    std::mt19937_64 r(11);
    const auto direction = [&] {
        const float z = 2 * even(r) - 1;
        const float a = 6.2831853F * even(r);
        const float s = std::sqrt(1 - z * z);
        return Vec3(s * std::cos(a), s * std::sin(a), z);
    };
    for (int i = 0; i < 2000; ++i) {
        const Vec3 a = direction();
        const Vec3 b = direction();
        const float there = surface.scattered(up, a, b)[3];
        EXPECT_NEAR(there, surface.scattered(up, b, a)[3], 1e-4F * there + 1e-7F);
        EXPECT_NEAR(there, surface.scattered(-up, a, b)[3], 1e-4F * there + 1e-7F);  // either winding
    }
}

// First law: nothing sends on more than it got, at any angle. The body leaves room for the mirror share of a smooth
// coat; the facets of a nearly smooth one send up to a thousandth more, which shows only over a body of 100 %.
TEST_P(AnySurface, GainsNoLight) {
    for (const double angle : {0.0, 20.0, 40.0, 55.0, 65.0, 75.0, 80.0, 84.0, 87.0})
        EXPECT_LE(albedo(from_at(angle)) + straight(from_at(angle)), 1.0015) << angle << " degrees";
}

// The pdf is one over all directions, less what bounce() draws under the horizon and drops; and the mean of
// what bounces keep is the share that the surface sends on.
TEST_P(AnySurface, BouncesByItsDensityAndKeepsItsShare) {
    std::mt19937_64 r(5);
    constexpr int count = 60'000;
    for (const double angle : angles) {
        const Vec3 from = from_at(angle);
        const AboutMirror about(from);
        constexpr int steps = 900, spokes = 240;
        double whole = 0;
        for (int i = 0; i < steps; ++i)
            for (int j = 0; j < spokes; ++j) {
                const double t = (i + 0.5) / steps;
                whole += static_cast<double>(surface.pdf(up, from, about.toward(t, (j + 0.5) / spokes))) *
                         AboutMirror::solid_angle(t);
            }
        whole /= steps * spokes;

        int lost = 0;
        double sum = 0, squares = 0;
        for (int i = 0; i < count; ++i) {
            const float u0 = even(r), u1 = even(r), u2 = even(r);
            const auto b = surface.bounce(up, from, u0, u1, u2);
            if (!b) {
                ++lost;
                continue;
            }
            ASSERT_NEAR(b->to.length(), 1.0F, 1e-4F);
            ASSERT_NEAR(b->pdf, surface.pdf(up, from, b->to), 1e-3F * b->pdf);
            const double kept = static_cast<double>(b->weight[3]);
            sum += kept;
            squares += kept * kept;
        }
        const double share_lost = static_cast<double>(lost) / count;
        EXPECT_NEAR(whole, 1 - share_lost, 4 * std::sqrt((share_lost * (1 - share_lost) + 1e-6) / count) + 1.5e-3)
            << angle << " degrees";
        const double mean = sum / count;
        const double error = std::sqrt(std::max(0.0, squares / count - mean * mean) / count);
        EXPECT_LT(error, 0.006) << "too noisy to prove anything";
        EXPECT_NEAR(mean, albedo(from), 4 * error + 1.5e-3) << angle << " degrees";
    }
}

// Pearson's chi-square of where bounces go against the pdf integrated over 20 x 8 cells about the mirror.
TEST_P(AnySurface, BouncesWhereItsDensitySays) {
    constexpr int rings = 20, spokes = 8, fine = 40, count = 60'000;
    for (const double angle : angles) {
        std::mt19937_64 r(29);
        const Vec3 from = from_at(angle);
        const AboutMirror about(from);
        std::array<double, rings * spokes> expected{}, met{};
        for (int i = 0; i < rings * fine; ++i)
            for (int j = 0; j < spokes * fine; ++j) {
                const double t = (i + 0.5) / (rings * fine);
                expected[static_cast<std::size_t>(i / fine * spokes + j / fine)] +=
                    static_cast<double>(surface.pdf(up, from, about.toward(t, (j + 0.5) / (spokes * fine)))) *
                    AboutMirror::solid_angle(t) / (rings * fine * spokes * fine) * count;
            }
        for (int i = 0; i < count; ++i) {
            const float u0 = even(r), u1 = even(r), u2 = even(r);
            const auto b = surface.bounce(up, from, u0, u1, u2);
            if (!b) continue;
            const Vec3 local = about.frame.to_frame(b->to);
            const double off = std::atan2(std::hypot(local.x, local.y), local.z);
            const double turn = std::atan2(local.y, local.x) / (2 * pi);
            const int ring = std::min(rings - 1, static_cast<int>(AboutMirror::t_of(off) * rings));
            const int spoke = std::min(spokes - 1, static_cast<int>((turn < 0 ? turn + 1 : turn) * spokes));
            met[static_cast<std::size_t>(ring * spokes + spoke)] += 1;
        }
        double chi2 = 0, few_expected = 0, few_met = 0;
        int cells = 0;
        for (std::size_t c = 0; c < expected.size(); ++c) {
            if (expected[c] < 10) {
                few_expected += expected[c];
                few_met += met[c];
                continue;
            }
            chi2 += (met[c] - expected[c]) * (met[c] - expected[c]) / expected[c];
            ++cells;
        }
        if (few_expected > 1) {
            chi2 += (few_met - few_expected) * (few_met - few_expected) / few_expected;
            ++cells;
        }
        ASSERT_GT(cells, 4);
        // Wilson and Hilferty: the cube root of chi-square over its freedom is near normal.
        const double f = cells;
        const double sigmas = (std::cbrt(chi2 / f) - (1 - 2 / (9 * f))) / std::sqrt(2 / (9 * f));
        EXPECT_LT(sigmas, 4.5) << angle << " degrees, chi-square " << chi2 << " over " << cells << " cells";
    }
}

// What comes through a square-on lit cloth falls to half its candela at half the spread (the definition), and none of
// it is lost at any angle of incidence: energy.
TEST(ThinCloth, SpreadsAsItSaysAndLosesNothing) {
    const Vec3 up{0, 0, 1};
    for (const float spread : {20.0F, 45.0F, 80.0F, 110.0F}) {
        const Surface s(thin_cloth(1.0F, spread));
        const auto candela = [&](double degrees) {
            const double a = radians(Degree{degrees});
            const Vec3 to(static_cast<float>(std::sin(a)), 0, static_cast<float>(-std::cos(a)));
            return static_cast<double>(s.scattered(up, up, to)[3]) * std::cos(a);
        };
        // The completion adds a little of Lambert's to the foot of the lobe.
        EXPECT_NEAR(candela(spread / 2.0) / candela(0), 0.5, 0.01) << spread;
        for (const double incidence : {0.0, 30.0, 60.0, 80.0}) {
            const double a = radians(Degree{incidence});
            const Vec3 from(static_cast<float>(std::sin(a)), 0, static_cast<float>(std::cos(a)));
            constexpr int steps = 400;
            double sum = 0;
            for (int i = 0; i < steps; ++i)
                for (int j = 0; j < steps; ++j) {
                    const double c = (i + 0.5) / steps, r = std::sqrt(1 - c * c), phi = 2 * pi * (j + 0.5) / steps;
                    const Vec3 to(static_cast<float>(r * std::cos(phi)), static_cast<float>(r * std::sin(phi)),
                                  static_cast<float>(-c));
                    sum += static_cast<double>(s.scattered(up, from, to)[3]) * c;
                }
            EXPECT_NEAR(sum * 2 * pi / (steps * steps), 1.0, 0.004) << spread << " at " << incidence;
        }
    }
}

INSTANTIATE_TEST_SUITE_P(
    Kinds, AnySurface,
    testing::Values(Kind{"matt", matt(0.7F)}, Kind{"white", matt(1.0F)},
                    Kind{"varnish_smooth", coated(1.0F, 0.04F, 0.05F)},
                    Kind{"varnish_silk", coated(1.0F, 0.04F, 0.12F)}, Kind{"varnish", coated(1.0F, 0.04F, 0.3F)},
                    Kind{"varnish_rough", coated(1.0F, 0.04F, 1.0F)}, Kind{"heavy_coat", coated(1.0F, 0.2F, 0.15F)},
                    Kind{"black_gloss", coated(0.0F, 0.04F, 0.1F)}, Kind{"mirror", metal(0.9F, 0.0F, 0.02F)},
                    Kind{"hard_silver", metal(0.82F, 0.03F, 0.15F)}, Kind{"matt_silver", metal(0.62F, 0.15F, 0.45F)},
                    Kind{"half_and_half", metal(0.5F, 0.5F, 0.3F)}, Kind{"cloth", cloth(0.4F, 0.35F, 0.25F)},
                    Kind{"glossy_cloth",
                         [] {
                             Finish f = cloth(0.5F, 0.5F, 0.0F);
                             f.gloss = 0.04F;
                             return f;
                         }()},
                    Kind{"glossy_net",
                         [] {
                             Finish f = cloth(0.3F, 0.2F, 0.5F);
                             f.gloss = 0.1F;
                             return f;
                         }()},
                    Kind{"silver_net",
                         [] {
                             Finish f = metal(0.4F, 0.1F, 0.3F);
                             f.straight = Spectrum{0.5F};
                             return f;
                         }()},
                    Kind{"all_coat", coated(0.5F, 1.0F, 0.2F)}, Kind{"net", cloth(0.1F, 0.0F, 0.5F)},
                    Kind{"cloth_100", thin_cloth(1.0F, 100)}, Kind{"cloth_60", thin_cloth(1.0F, 60)},
                    Kind{"cloth_25", thin_cloth(0.8F, 25)}, Kind{"pane", pane(1.52F, 0.95F)},
                    Kind{"lossless_pane", pane(1.5F, 1.0F)}),
    [](const auto& p) { return std::string(p.param.name); });

}  // namespace
}  // namespace rushlight
