// Surfaces that mirror without any blur.
#include "quantity/units.h"
#include "scene/surface/finishes.h"
#include "scene/surface/surface.h"

#include <gtest/gtest.h>

#include <cmath>

namespace rushlight {
namespace {

using namespace finishes;

// What a sharp surface mirrors is the whole of its gloss, by Fresnel's equations for coats and panes; with the body and
// what passes it is no more than came, and a lossless white one sends on all. Walks pass, are mirrored or are
// scattered: never more than one in all.
TEST(SharpSurface, MirrorsInOneDirectionAndGainsNothing) {
    Finish veil = metal(0.4F, 0.1F, 0);
    veil.straight = Spectrum{0.5F};
    const Surface all[] = {Surface(metal(0.9F, 0, 0)),
                           Surface(metal(0.5F, 0.5F, 0)),
                           Surface(coated(1, 0.04F, 0)),
                           Surface(coated(0, 0.04F, 0)),
                           Surface(pane(1.52F, 0.95F)),
                           Surface(pane(1.5F, 1)),
                           Surface(veil)};
    const Vec3 up(0, 0, 1);
    for (const Surface& s : all) {
        ASSERT_TRUE(s.sharp());
        for (const double degrees : {0.0, 30.0, 60.0, 80.0}) {
            const double i = degrees * pi / 180;
            const auto cosine = static_cast<float>(std::cos(i));
            const Vec3 from(static_cast<float>(std::sin(i)), 0, cosine);
            double body = 0;
            constexpr int steps = 200;
            for (int a = 0; a < steps; ++a) {  // even all round, but for the lobes that none of these has
                const double c = (a + 0.5) / steps, r = std::sqrt(1 - c * c);
                body +=
                    2 * pi * c / steps *
                    static_cast<double>(s.scattered(up, from, {0, static_cast<float>(r), static_cast<float>(c)})[5]);
            }
            const double mirrored = static_cast<double>(s.mirrored_at(cosine)[5]);
            const double passed = s.veil() ? static_cast<double>(s.straight_at(cosine)[5]) : 0.0;
            EXPECT_GE(mirrored, 0);
            EXPECT_LE(body + mirrored + passed, 1.0015);
            const Surface::Chances c = s.chances(cosine);
            EXPECT_GT(c.mirror, 0);
            EXPECT_LE(c.pass + c.mirror, 1.0F + 1e-6F);
            EXPECT_EQ(s.pdf(up, from, Vec3(-from.x, 0, from.z)), s.pdf(up, from, Vec3(0, from.x, from.z)));
        }
    }
    for (const double degrees : {20.0, 45.0, 56.31, 70.0}) {
        const double i = degrees * pi / 180, t = std::asin(std::sin(i) / 1.5);
        const double expected =
            (std::pow(std::sin(i - t) / std::sin(i + t), 2) + std::pow(std::tan(i - t) / std::tan(i + t), 2)) / 2;
        EXPECT_NEAR(all[3].mirrored_at(static_cast<float>(std::cos(i)))[8], expected, 1e-4);
        // Two faces of a lossless sheet: 2 R / (1 + R), each polarisation by itself; here at normal incidence.
    }
    EXPECT_NEAR(all[5].mirrored_at(1.0F)[8], 2 * 0.04 / 1.04, 1e-4);
    EXPECT_NEAR(all[5].mirrored_at(0.3F)[8] + all[5].straight_at(0.3F)[8], 1.0, 1e-5);
}

}  // namespace
}  // namespace rushlight
