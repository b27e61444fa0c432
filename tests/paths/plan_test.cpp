// How passes are counted and shared out: in lots, so that nothing that is planned hangs on how large a lot is.
#include "paths/plan.h"

#include <gtest/gtest.h>

#include <random>

namespace rushlight {
namespace {

TEST(Plan, BatchesOfAHalfHaveThePassesThatTheirErrorAsksFor) {
    for (const double each : {1.0, 1.3, 2.5, 3.0, 7.0, 19.9, 33.0, 100.0, 1234.5}) {
        const InHalf planned = passes_in_half(each);
        double inverse = 0;
        for (std::size_t b = 0; b < batches_in_all; b += halves) {
            inverse += 1.0 / static_cast<double>(planned.of(b)) / batches_a_half;
            // Each of them ends with a lot.
            std::size_t passes = 0;
            while (passes < planned.of(b)) passes += lot_after(passes);
            EXPECT_EQ(passes, planned.of(b)) << each;
        }
        // The variance of the half's mean goes with the mean of one over the passes: no more than asked for, and hardly
        // less.
        EXPECT_LE(inverse, 1 / each + 1e-12) << each;
        EXPECT_GE(inverse, 0.93 / each) << each;
    }
}

TEST(Plan, TheVarianceOfAPassDoesNotHangOnTheLots) {
    // A pass brings an exponential number: mean 1, variance 1. Means over lots of many sizes must tell the same.
    std::mt19937_64 random(4);
    std::exponential_distribution<double> pass(1.0);
    Moments seen;
    for (int times = 0; times < 400; ++times)
        for (std::size_t passes = 0; passes < 64;) {
            const std::size_t lot = lot_after(passes);
            double sum = 0;
            for (std::size_t i = 0; i < lot; ++i) sum += pass(random);
            seen.add(sum / static_cast<double>(lot), static_cast<double>(lot));
            passes += lot;
        }
    EXPECT_DOUBLE_EQ(seen.count, 400 * 64);
    EXPECT_NEAR(seen.mean(), 1.0, 3 / std::sqrt(400.0 * 64));
    // Some 5600 lots; the fourth moment of a single pass is 9 times the squared variance, of a lot less.
    EXPECT_NEAR(seen.variance(), 1.0, 3 * std::sqrt(8.0 / 5600));
}

}  // namespace
}  // namespace rushlight
