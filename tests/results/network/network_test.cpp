#include "results/network/network.h"

#include "results/network/bands_of_rows.h"
#include "results/network/network_weights.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>
#include <stdexcept>

#ifdef RUSHLIGHT_NETWORK

namespace rushlight {
namespace {

Effort with_threads(int threads) {
    Effort e;
    e.threads = threads;
    return e;
}

/// A grey wall in soft light whose pixels are one walk each, with exponential chance; the true light rises to the
/// right.
NoisyPicture noisy_wall(int width, int height) {
    NoisyPicture p{width, height, {}, {}, {}};
    std::mt19937 random(3);
    std::exponential_distribution<float> chance(1);
    for (int y = 0; y < height; ++y)
        for (int x = 0; x < width; ++x) {
            const float light = 40 * (1 + static_cast<float>(x) / static_cast<float>(width)) * chance(random);
            p.light.emplace_back(light, light, light);
            p.albedo.emplace_back(0.5F, 0.5F, 0.5F);
            p.normal.emplace_back(-1.0F, 0.0F, 0.0F);
        }
    return p;
}

TEST(NetworkWeights, SixteenLayersThatFitEachOther) {
    const std::vector<ConvolutionWeights> layers = network_weights();
    ASSERT_EQ(layers.size(), 16U);
    EXPECT_EQ(layers.front().in, 9);
    EXPECT_EQ(layers.back().out, 3);
    for (const ConvolutionWeights& l : layers) EXPECT_EQ(l.weights.size(), static_cast<std::size_t>(9 * l.in * l.out));
}

TEST(NetworkWeights, OtherBytesAreRefused) {
    EXPECT_THROW(network_weights(std::vector<unsigned char>(7, 0)), std::runtime_error);
    std::vector<unsigned char> bytes{'R', 'L', 'N', 'E', 'T', '0', '0', '1', 1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0};
    EXPECT_THROW(network_weights(bytes), std::runtime_error);
    bytes.resize(bytes.size() + 20, 0);
    EXPECT_EQ(network_weights(bytes).size(), 1U);
    bytes.push_back(0);
    EXPECT_THROW(network_weights(bytes), std::runtime_error);
}

// Against the sum that a convolution is, term by term in double precision.
TEST(Convolution, IsTheSumOverNinePixels) {
    constexpr int width = 13, height = 21, in = 5, out = 3;
    ConvolutionWeights weights{out, in, {}, {}};
    std::mt19937 random(11);
    std::normal_distribution<float> chance(0, 1);
    for (int i = 0; i < 9 * in * out; ++i) weights.weights.push_back(chance(random));
    for (int i = 0; i < out; ++i) weights.offsets.push_back(chance(random));
    Planes from(width, height, stored_channels(in));
    for (int y = 0; y < height; ++y)
        for (int x = 0; x < width; ++x)
            for (int k = 0; k < from.channels(); ++k)
                from.row(y)[x * from.channels() + k] = k < in ? chance(random) : 0.0F;
    const Planes to = convolved(*convolution_library(), weights, width, height,
                                [&](int first, int, float*) { return from.row(first - 1); }, {});
    int positive = 0;
    for (int y = 0; y < height; ++y)
        for (int x = 0; x < width; ++x)
            for (int o = 0; o < out; ++o) {
                double sum = static_cast<double>(weights.offsets[static_cast<std::size_t>(o)]);
                for (int i = 0; i < in; ++i)
                    for (int v = -1; v <= 1; ++v)
                        for (int u = -1; u <= 1; ++u) {
                            if (x + u < 0 || x + u >= width) continue;
                            const auto w = static_cast<std::size_t>(((o * in + i) * 3 + v + 1) * 3 + u + 1);
                            sum += static_cast<double>(weights.weights[w]) *
                                   static_cast<double>(from.row(y + v)[(x + u) * from.channels() + i]);
                        }
                positive += sum > 0;
                EXPECT_NEAR(to.row(y)[x * to.channels() + o], std::max(sum, 0.0), 1e-4);
            }
    EXPECT_GT(positive, 100);
}

// Exponential chance has a spread as large as its mean: the network leaves a tenth of it or less.
TEST(Network, CalmsAWall) {
    const NoisyPicture noisy = noisy_wall(160, 96);
    const std::vector<Vec3> calm = without_noise(noisy, {});
    ASSERT_EQ(calm.size(), noisy.light.size());
    double squares = 0;
    for (std::size_t p = 0; p < calm.size(); ++p) {
        const double truth = 40 * (1 + static_cast<double>(p % 160) / 160);
        squares += std::pow(static_cast<double>(calm[p].y) / truth - 1, 2) / static_cast<double>(calm.size());
    }
    EXPECT_LT(std::sqrt(squares), 0.1);
}

TEST(Network, SameBitsFromAnyNumberOfThreads) {
    const NoisyPicture noisy = noisy_wall(100, 70);
    const std::vector<Vec3> one = without_noise(noisy, with_threads(1));
    for (const int threads : {2, 3, 5}) EXPECT_EQ(without_noise(noisy, with_threads(threads)), one) << threads;
}

// Exposed by itself: twice the light is twice the light.
TEST(Network, AnyUnitOfLight) {
    NoisyPicture noisy = noisy_wall(96, 64);
    const std::vector<Vec3> before = without_noise(noisy, {});
    for (Vec3& v : noisy.light) v *= 1024.0F;
    const std::vector<Vec3> after = without_noise(noisy, {});
    for (std::size_t p = 0; p < before.size(); ++p) EXPECT_NEAR(after[p].y / before[p].y, 1024, 2);
}

// One walk that brought a thousand times as much as all around leaves no blot: the wall looks as it does without it.
TEST(Network, ASparkLeavesNoBlot) {
    NoisyPicture wall = noisy_wall(192, 128);
    const std::vector<Vec3> before = without_noise(wall, {});
    wall.light[64 * 192 + 96] = Vec3(60'000);
    const std::vector<Vec3> after = without_noise(wall, {});
    for (std::size_t p = 0; p < before.size(); ++p) EXPECT_NEAR(after[p].y / before[p].y, 1, 0.1);
}

TEST(Network, WorkThatIsDroppedIsWorthless) {
    std::atomic<bool> drop = true;
    Effort e;
    e.drop = &drop;
    EXPECT_TRUE(without_noise(noisy_wall(64, 64), e).empty());
}

}  // namespace
}  // namespace rushlight

#endif
