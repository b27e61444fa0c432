#include "results/frame/preview_filter.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace rushlight {
namespace {

/// A grey wall square to a long lens, its bounced light of mean 1 with noise of a pixel as large as itself.
LayeredFrame noisy_wall(double noise) {
    LayeredFrame f;
    f.width = 64;
    f.height = 36;
    f.camera.lens = 300;
    f.camera.at = {0, 0, 1.5F};
    f.camera.look_at = {1, 0, 1.5F};
    f.noise = noise;
    const std::size_t pixels = 64 * 36;
    f.normal.assign(pixels, Vec3(-1, 0, 0));
    f.distance.assign(pixels, 4.0F);
    f.albedo.assign(pixels, Spectrum{0.5F});
    f.hair.assign(pixels, 0);
    f.soft.assign(pixels, Vec3(0, 0, 0));
    std::mt19937 random(5);
    std::exponential_distribution<float> light(1);
    for (std::size_t p = 0; p < pixels; ++p) {
        const float here = light(random);
        f.bounced.emplace_back(here, here, here);
    }
    return f;
}

struct Spread {
    double mean = 0, deviation = 0;
};
Spread filtered(const LayeredFrame& f) {
    const std::vector<Vec3> correction = preview_correction(f);
    double sum = 0, squares = 0;
    for (std::size_t p = 0; p < correction.size(); ++p) {
        const auto y = static_cast<double>(f.bounced[p].y + correction[p].y);
        sum += y;
        squares += y * y;
    }
    const auto n = static_cast<double>(correction.size());
    return {sum / n, std::sqrt(squares / n - sum / n * sum / n)};
}

// The mean of so many pixels, each as noisy as it is bright, is sure to 2 %; the filter must not move it by as much
// again.
TEST(PreviewFilter, CalmsAWallAndKeepsItsLight) {
    for (const double noise : {1.0, 0.3, static_cast<double>(INFINITY)}) {
        const Spread s = filtered(noisy_wall(noise));
        EXPECT_NEAR(s.mean, 1, 0.06) << noise;
        EXPECT_LT(s.deviation, 0.2) << noise;
    }
}

TEST(PreviewFilter, LeavesACleanFrameAlone) {
    EXPECT_NEAR(filtered(noisy_wall(0.01)).deviation, 1, 0.1);
}

// Sparks are spread over the hair around them, not thrown away.
TEST(PreviewFilter, SparksInHairAreSpread) {
    LayeredFrame f = noisy_wall(0.3);
    f.hair.assign(f.hair.size(), 1);
    f.bounced.assign(f.bounced.size(), Vec3(1, 1, 1));
    f.bounced[f.at(32, 18)] = Vec3(301, 301, 301);
    const std::vector<Vec3> correction = preview_correction(f);
    EXPECT_LT(f.bounced[f.at(32, 18)].y + correction[f.at(32, 18)].y, 15);
    double sum = 0;
    for (std::size_t p = 0; p < correction.size(); ++p) sum += static_cast<double>(f.bounced[p].y + correction[p].y);
    EXPECT_NEAR(sum, static_cast<double>(f.bounced.size()) + 300, 0.05 * 300);
}

// A pixel on the edge between two walls, a dim pale one and a bright dark one: half the light of each, part by part,
// though its middle sees but one of them, and though what was traced in it is off.
TEST(PreviewFilter, EdgesShowNoSteps) {
    LayeredFrame f = noisy_wall(0.3);
    for (int y = 0; y < f.height; ++y)
        for (int x = 0; x < f.width; ++x) {
            const std::size_t p = f.at(x, y);
            if (x > 32) {
                f.distance[p] = 2;
                f.albedo[p] = Spectrum{0.1F};
            }
            const float light = x > 32 ? 20.0F * 0.1F : x < 32 ? 0.5F : 100.0F;
            f.bounced[p] = Vec3(light, light, light);
        }
    for (int y = 0; y < f.height; ++y) {
        Fringe fringe{f.at(32, y), {}};
        for (std::size_t part = 0; part < fringe.parts.size(); ++part) {
            const std::size_t like = f.at(part % 2 == 0 ? 20 : 50, y);
            fringe.parts[part] = {f.normal[like], f.distance[like], f.albedo[like]};
        }
        f.fringes.push_back(fringe);
    }
    const std::vector<Vec3> correction = preview_correction(f);
    const std::size_t p = f.at(32, 18);
    EXPECT_NEAR(f.bounced[p].y + correction[p].y, (0.5F + 2.0F) / 2, 0.02F);
    EXPECT_NEAR(f.bounced[p - 4].y + correction[p - 4].y, 0.5F, 0.01F);
    EXPECT_NEAR(f.bounced[p + 4].y + correction[p + 4].y, 2.0F, 0.01F);
}

// A lock so thin that all of it is edge, in a frame that is dark but for one spark.
TEST(PreviewFilter, AThinLockStaysANumber) {
    LayeredFrame f = noisy_wall(0.3);
    f.bounced.assign(f.bounced.size(), Vec3(0, 0, 0));
    for (int y = 5; y < 30; ++y) f.hair[f.at(20, y)] = 1;
    f.bounced[f.at(20, 12)] = Vec3(50, 50, 50);
    for (const Vec3& v : preview_correction(f)) EXPECT_TRUE(std::isfinite(v.y));
}

// A brow: an island of hair whose pixels nearly all see skin as well. The few that do not are no better known than the
// rest, and must not stand for it. Means of nine and more such pixels have a third of their noise or less.
TEST(PreviewFilter, ABrowDoesNotSpark) {
    LayeredFrame f = noisy_wall(0.3);
    const std::vector<Vec3> noise = f.bounced;
    f.bounced.assign(f.bounced.size(), Vec3(1, 1, 1));
    f.mixed.assign(f.bounced.size(), 0);
    const SurfaceSeen skin{{-1, 0, 0}, 4, Spectrum{0.5F}, false, false};
    SurfaceSeen hair = skin;
    hair.hair = true;
    std::vector<std::size_t> brow;
    for (int x = 20; x < 44; ++x)
        for (int y = 15; y < 18; ++y) {
            const std::size_t p = f.at(x, y);
            brow.push_back(p);
            f.hair[p] = 1;
            f.bounced[p] = noise[p];
            if (y == 16 && (x == 25 || x == 40)) {
                f.bounced[p] = Vec3(6, 6, 6);  // a spark, and clean
                continue;
            }
            f.mixed[p] = 1;
            f.fringes.push_back({p, {hair, hair, hair, hair, skin, skin, skin, skin}});
        }
    const std::vector<Vec3> correction = preview_correction(f);
    double sum = 0, most = 0, before = 0;
    for (const std::size_t p : brow) {
        const double y = static_cast<double>(f.bounced[p].y + correction[p].y);
        before += static_cast<double>(f.bounced[p].y) / static_cast<double>(brow.size());
        sum += y / static_cast<double>(brow.size());
        most = std::max(most, y);
    }
    EXPECT_LT(most, 2.5);
    EXPECT_NEAR(sum, (1 + before) / 2, 0.35);
}

}  // namespace
}  // namespace rushlight
