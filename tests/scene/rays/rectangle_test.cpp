// Choosing points of a rectangle by the solid angle that it fills, against that solid angle's closed form.
#include "scene/rays/rectangle.h"

#include "by_chance.h"
#include "quantity/units.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <random>
#include <vector>

namespace rushlight {
namespace {

using namespace by_chance;

/// Solid angle of the part [u0, u1] x [v0, v1] of the rectangle: sum over its corners of
/// +-atan(x y / (h sqrt(x^2 + y^2 + h^2))) (solid geometry; view-factor texts).
double solid_angle(const Rectangle& r, const Vec3& from, double u0 = 0, double u1 = 1, double v0 = 0, double v1 = 1) {
    const Imath::V3d d(r.centre.x - from.x, r.centre.y - from.y, r.centre.z - from.z);
    const auto along = [&](const Vec3& axis) { return d.dot(Imath::V3d(axis.x, axis.y, axis.z)); };
    const double h = std::abs(along(r.normal));
    const double cx = along(r.across), cy = along(r.up);
    const double hw = r.half_width, hh = r.half_height;
    const auto corner = [&](double u, double v) {
        const double x = cx + (2 * u - 1) * hw;
        const double y = cy + (2 * v - 1) * hh;
        return std::atan2(x * y, h * std::sqrt(x * x + y * y + h * h));
    };
    return corner(u1, v1) - corner(u0, v1) - corner(u1, v0) + corner(u0, v0);
}

Rectangle window() {
    Rectangle r = facing_rectangle({0.3F, 2.0F, 1.4F}, Vec3(0.2F, -1, 0.1F).normalized(), 20, 1.2, 1.5);
    return r;
}

Vec3 off(const Rectangle& r, float across, float up, float out) {
    return r.centre + r.across * across + r.up * up + r.normal * out;
}

struct View {
    const char* name;
    float across, up, out;
};

class SeenFrom : public testing::TestWithParam<View> {
protected:
    const Rectangle r = window();
    const Vec3 from = off(r, GetParam().across, GetParam().up, GetParam().out);
};

// One over the pdf, averaged over the samples, is the whole solid angle; cell by cell it is the cell's.
TEST_P(SeenFrom, FillsItsSolidAngleEvenly) {
    std::mt19937_64 random(3);
    constexpr int cells = 6, count = 120'000;
    std::array<double, cells * cells> sum{}, squares{};
    int outside = 0;
    for (int i = 0; i < count; ++i) {
        const auto seen = r.sample_from(from, even(random), even(random));
        ASSERT_TRUE(seen.has_value());
        ASSERT_TRUE(std::isfinite(seen->pdf) && seen->pdf > 0);
        const Vec3 p = seen->position - r.centre;
        const float u = 0.5F + 0.5F * p.dot(r.across) / r.half_width;
        const float v = 0.5F + 0.5F * p.dot(r.up) / r.half_height;
        ASSERT_NEAR(p.dot(r.normal), 0.0F, 2e-6F * (1 + (from - r.centre).length()));
        if (u < -1e-5F || u > 1 + 1e-5F || v < -1e-5F || v > 1 + 1e-5F) ++outside;
        const auto cell = static_cast<std::size_t>(std::clamp(static_cast<int>(u * cells), 0, cells - 1) * cells +
                                                   std::clamp(static_cast<int>(v * cells), 0, cells - 1));
        const double w = 1.0 / static_cast<double>(seen->pdf);
        sum[cell] += w;
        squares[cell] += w * w;
    }
    EXPECT_EQ(outside, 0);
    double whole = 0;
    for (std::size_t c = 0; c < sum.size(); ++c) {
        const double mean = sum[c] / count;
        const double error = std::sqrt((squares[c] / count - mean * mean) / count);
        const double i = static_cast<double>(c / cells), j = static_cast<double>(c % cells);
        const double want = solid_angle(r, from, i / cells, (i + 1) / cells, j / cells, (j + 1) / cells);
        // Cells with a dozen samples or more; the smaller ones count in the whole.
        if (want > 1e-4 * solid_angle(r, from)) {
            EXPECT_NEAR(mean, want, 4.5 * error + 1e-4 * want) << "cell " << i << ", " << j;
        }
        whole += mean;
    }
    EXPECT_NEAR(whole / solid_angle(r, from), 1.0, 2e-3);
}

// The pdf asked for afterwards, by direction, is the one given with the sample.
TEST_P(SeenFrom, DensityIsTheSamples) {
    std::mt19937_64 random(4);
    int missed = 0;
    constexpr int count = 5000;
    for (int i = 0; i < count; ++i) {
        const auto seen = r.sample_from(from, even(random), even(random));
        ASSERT_TRUE(seen.has_value());
        const Vec3 toward = (seen->position - from).normalized();
        const float pdf = r.density_from(from, toward);
        if (pdf == 0) {
            ++missed;  // on the very edge, by rounding
        } else {
            EXPECT_NEAR(pdf / seen->pdf, 1.0F, 2e-3F);
        }
        EXPECT_EQ(r.density_from(from, -toward), 0.0F);
    }
    EXPECT_LE(missed, count / 200);
}

INSTANTIATE_TEST_SUITE_P(Views, SeenFrom,
                         testing::Values(View{"facing", 0, 0, 1}, View{"facing_near", 0.1F, -0.2F, 0.05F},
                                         View{"touching", 0.2F, 0.1F, 0.002F}, View{"beside", 1.4F, 0.4F, 0.6F},
                                         View{"behind", -0.5F, 0.9F, -1.1F}, View{"low", 0.9F, 0.2F, 0.05F},
                                         View{"edge_on", 1.1F, 0.3F, 0.004F}, View{"edge_on_above", 0.1F, 1.5F, 0.003F},
                                         View{"grazing", 1.1F, 0.3F, 2e-4F}, View{"grazing_near", 0.62F, 0.3F, 1e-4F},
                                         View{"middling", 0, 0, 4}, View{"middling_low", 4.5F, 1.0F, 0.2F},
                                         View{"far", 2, 3, 8}, View{"far_low", 9, 2, 0.3F},
                                         View{"very_far", 30, 10, 80}),
                         [](const auto& p) { return std::string(p.param.name); });

// In its own plane a rectangle fills nothing: no sample, or one that weighs nothing, and never a broken number.
TEST(Rectangle, NothingIsSeenEdgeOn) {
    const Rectangle r = window();
    for (const auto& [a, u] :
         std::vector<std::array<float, 2>>{{1.1F, 0.3F}, {0, 1.5F}, {0.1F, 0.1F}, {0.6F, 0.75F}, {20, 3}}) {
        const Vec3 from = off(r, a, u, 0);
        std::mt19937_64 random(8);
        for (int i = 0; i < 1000; ++i) {
            const auto seen = r.sample_from(from, even(random), even(random));
            if (!seen) continue;
            EXPECT_TRUE(std::isfinite(seen->position.length()) && seen->pdf > 0);
            // Where rounding lifts the point off the plane, the rectangle may fill half a sphere at most.
            EXPECT_GT(seen->pdf, 0.99F / (2 * static_cast<float>(pi)));
        }
        EXPECT_EQ(r.density_from(from, r.across), 0.0F);
        EXPECT_TRUE(std::isfinite(r.density_from(from, Vec3(r.across + r.normal * 1e-6F).normalized())));
    }
}

// What a ray crosses: distance, side, and nothing past the edges.
TEST(Rectangle, Crossing) {
    const Rectangle r = window();
    const Vec3 from = off(r, 0.2F, 0.3F, 2);
    const auto met = r.crossed_by(from, -r.normal);
    ASSERT_TRUE(met.has_value());
    EXPECT_NEAR(met->distance, 2.0F, 1e-5F);
    EXPECT_NEAR(met->cosine, -1.0F, 1e-6F);
    EXPECT_FALSE(r.crossed_by(from, r.normal).has_value());
    EXPECT_FALSE(r.crossed_by(off(r, 0.61F, 0, 1), -r.normal).has_value());
    EXPECT_TRUE(r.crossed_by(off(r, 0.59F, 0.74F, 1), -r.normal).has_value());
    EXPECT_FALSE(r.crossed_by(off(r, 0, 0.76F, 1), -r.normal).has_value());
}

// Panels hang level unless rolled: across is level, up points up, the frame is right-handed; also straight down.
TEST(Rectangle, FacingHangsLevel) {
    for (const Vec3& aim : {Vec3(1, 0, 0), Vec3(0, -1, 0), Vec3(0.5F, 0.5F, -0.7F), Vec3(0, 0, -1), Vec3(0, 0, 1)}) {
        const Rectangle r = facing_rectangle({1, 2, 3}, aim, 0, 2, 1);
        EXPECT_NEAR(r.across.z, 0, 1e-6F);
        EXPECT_GE(r.up.z, -1e-6F);
        EXPECT_NEAR((r.across.cross(r.up) - r.normal).length(), 0, 1e-5F);
        EXPECT_NEAR((r.normal - aim.normalized()).length(), 0, 1e-6F);
        EXPECT_NEAR(r.area(), 2.0F, 1e-6F);
    }
}

}  // namespace
}  // namespace rushlight
