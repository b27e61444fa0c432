#include "results/frame/denoised.h"

#include "quantity/colour.h"
#include "results/network/network.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace rushlight {
namespace {

/// Two walls of different brightness beside each other, lit by two lamps, the second one from the right half alone;
/// many pixels were met by no walk at all.
LayeredFrame two_walls(int width, int height, float lit) {
    LayeredFrame f;
    f.width = width;
    f.height = height;
    f.camera.lens = 300;
    f.camera.at = {0, 0, 1.5F};
    f.camera.look_at = {1, 0, 1.5F};
    f.sources = {"a", "b"};
    f.layers.resize(2);
    f.noise = 1;
    std::mt19937 random(7);
    std::uniform_real_distribution<float> chance(0, 1);
    for (int y = 0; y < height; ++y)
        for (int x = 0; x < width; ++x) {
            const bool right = x >= width / 2;
            const float albedo = right ? 0.6F : 0.2F, light = 100 * albedo / lit;
            f.layers[0].push_back(Spectrum{1.0F} * (chance(random) < lit ? light : 0.0F));
            f.layers[1].push_back(Spectrum{1.0F} * (right && chance(random) < lit ? light : 0.0F));
            f.error.push_back(light * std::sqrt(lit * (1 - lit)) * photometric(Spectrum{1.0F}));
            f.normal.emplace_back(-1, 0, 0);
            f.distance.push_back(4);
            f.albedo.push_back(Spectrum{albedo});
            f.hair.push_back(0);
            f.clean_albedo.emplace_back(albedo, albedo, albedo);
            f.clean_normal.emplace_back(-1, 0, 0);
            f.clean_hair.push_back(0);
        }
    return f;
}

std::vector<Vec3> sum_of(const LayeredFrame& f) {
    std::vector<Vec3> sum(f.error.size(), Vec3(0, 0, 0));
    for (const auto& layer : f.layers)
        for (std::size_t p = 0; p < sum.size(); ++p) {
            const Tristimulus t = tristimulus(layer[p]);
            sum[p] += Vec3(static_cast<float>(t.x), static_cast<float>(t.y), static_cast<float>(t.z));
        }
    return sum;
}

// Half of the walks are lit: a region of 32 x 32 is known to 1 / 32 of itself, and must not be further off the truth
// than three of these.
TEST(Denoised, LightIsNotMoved) {
    if (!has_network()) GTEST_SKIP() << "built without the network";
    const LayeredFrame f = two_walls(256, 128, 0.5F);
    const std::vector<Vec3> calm = denoised(f, sum_of(f), {});
    ASSERT_EQ(calm.size(), f.error.size());
    const double one = static_cast<double>(photometric(Spectrum{1.0F}));
    for (int j = 0; j < 4; ++j)
        for (int i = 0; i < 8; ++i) {
            double sum = 0;
            for (int y = 32 * j; y < 32 * (j + 1); ++y)
                for (int x = 32 * i; x < 32 * (i + 1); ++x) sum += static_cast<double>(calm[f.at(x, y)].y) / 1024;
            const double truth = one * (i < 4 ? 20.0 : 120.0);
            EXPECT_NEAR(sum / truth, 1, 3.0 / 32) << i << ", " << j;
        }
}

TEST(Denoised, NoPixelIsLeftUnlit) {
    if (!has_network()) GTEST_SKIP() << "built without the network";
    const LayeredFrame f = two_walls(128, 96, 0.3F);
    const double one = static_cast<double>(photometric(Spectrum{1.0F}));
    for (const Vec3& v : denoised(f, sum_of(f), {})) EXPECT_GT(static_cast<double>(v.y), 5 * one);
}

TEST(Denoised, CleanFramesAreLeftAlone) {
    LayeredFrame f = two_walls(64, 64, 1);
    f.noise = 0.001;
    EXPECT_TRUE(denoised(f, sum_of(f), {}).empty());
}

TEST(SharedOut, LayersSumToThePictureAndUnlitPixelsHaveTheirNeighboursShares) {
    const LayeredFrame f = two_walls(128, 64, 0.3F);
    const std::vector<Vec3> sum(f.error.size(), Vec3(3, 5, 7));
    const auto layers = shared_out(f, sum, {});
    ASSERT_EQ(layers.size(), 2U);
    double left = 0, right = 0;
    for (std::size_t p = 0; p < sum.size(); ++p) {
        for (int k = 0; k < 3; ++k) EXPECT_NEAR(layers[0][p][k] + layers[1][p][k], sum[p][k], 1e-4F);
        const auto share = static_cast<double>(layers[1][p].y / sum[p].y);
        const int x = static_cast<int>(p) % 128;
        if (x < 48) left += share / (48 * 64);
        if (x >= 80) right += share / (48 * 64);
    }
    EXPECT_NEAR(left, 0, 0.01);
    // Both lamps give the same there; the mean of ratios of some twenty walks leans by less than this.
    EXPECT_NEAR(right, 0.5, 0.03);
}

}  // namespace
}  // namespace rushlight
