#include "results/network/given_back.h"

#include <gtest/gtest.h>

#include <random>

namespace rushlight {
namespace {

constexpr int width = 192, height = 128;
constexpr std::size_t pixels = std::size_t{width} * height;

std::size_t at(int x, int y) {
    return static_cast<std::size_t>(y) * width + static_cast<std::size_t>(x);
}

/// Walks whose luck is exponential: their spread is their mean.
std::vector<Vec3> traced(const std::vector<float>& truth) {
    std::vector<Vec3> light;
    std::mt19937 random(5);
    std::exponential_distribution<float> luck(1);
    for (const float t : truth) light.push_back(Vec3(0.9F, 1, 1.1F) * (t * luck(random)));
    return light;
}

double mean_of(const std::vector<Vec3>& light, int k, int left, int right) {
    double sum = 0;
    for (int y = 0; y < height; ++y)
        for (int x = left; x < right; ++x) sum += static_cast<double>(light[at(x, y)][k]);
    return sum / (height * (right - left));
}

// A third of the light is missing, and of its colour some: 24,576 walks know their mean to .64 %.
TEST(GivenBack, WhatWasTakenEverywhere) {
    const std::vector<Vec3> light = traced(std::vector<float>(pixels, 50.0F));
    std::vector<Vec3> calm(pixels, Vec3(36, 36, 30));
    give_back(width, height, light, {}, calm, {});
    for (int k = 0; k < 3; ++k) EXPECT_NEAR(mean_of(calm, k, 0, width) / mean_of(light, k, 0, width), 1, 0.01) << k;
}

// One half was made a quarter too dark, the other one as much too bright.
TEST(GivenBack, ToTheSideThatLacksIt) {
    const std::vector<Vec3> light = traced(std::vector<float>(pixels, 50.0F));
    std::vector<Vec3> calm(pixels);
    for (std::size_t p = 0; p < pixels; ++p) calm[p] = Vec3(45, 50, 55) * (p % width < width / 2 ? 0.75F : 1.25F);
    give_back(width, height, light, {}, calm, {});
    EXPECT_NEAR(mean_of(calm, 1, 0, 64), 50, 2.5);
    EXPECT_NEAR(mean_of(calm, 1, 128, width), 50, 2.5);
}

// What one walk brought is noise: the light around does not follow it, and no blot appears.
TEST(GivenBack, NotWhatOneWalkBrought) {
    std::vector<Vec3> light = traced(std::vector<float>(pixels, 50.0F));
    light[at(100, 60)] = Vec3(5e4F);
    std::vector<Vec3> calm(pixels, Vec3(45, 50, 55));
    give_back(width, height, light, {}, calm, {});
    for (const Vec3& v : calm) EXPECT_NEAR(v.y, 50, 2.5);
}

// Hair that lost half its light gets it back, and the skin and the wall beside it get none of it.
TEST(GivenBack, HairApartFromAllElse) {
    std::vector<float> hair(pixels, 0.0F), truth(pixels);
    std::vector<Vec3> calm(pixels);
    for (int y = 0; y < height; ++y)
        for (int x = 0; x < width; ++x) {
            const std::size_t p = at(x, y);
            hair[p] = x < 40 ? 1.0F : x == 40 ? 0.5F : 0.0F;
            truth[p] = 20 * hair[p] + 50 * (1 - hair[p]);
            calm[p] = Vec3(0.9F, 1, 1.1F) * (10 * hair[p] + 50 * (1 - hair[p]));
        }
    give_back(width, height, traced(truth), hair, calm, {});
    EXPECT_NEAR(mean_of(calm, 1, 0, 40), 20, 0.6);
    EXPECT_NEAR(mean_of(calm, 1, 41, 60), 50, 1.0);
    EXPECT_NEAR(mean_of(calm, 1, 60, width), 50, 1.0);
}

TEST(GivenBack, SmallPicturesAndDarkOnes) {
    std::vector<Vec3> one(1, Vec3(2));
    give_back(1, 1, {Vec3(2)}, {}, one, {});
    EXPECT_FLOAT_EQ(one[0].y, 2);
    std::vector<Vec3> dark(30, Vec3(0));
    give_back(6, 5, std::vector<Vec3>(30, Vec3(0)), std::vector<float>(30, 1.0F), dark, {});
    for (const Vec3& v : dark) EXPECT_EQ(v, Vec3(0, 0, 0));
}

}  // namespace
}  // namespace rushlight
