// A choice by shares: each as often as its share says, and what is left of the random number is even again.
#include "scene/surface/choices.h"

#include <gtest/gtest.h>

#include <vector>

namespace rushlight {
namespace {

std::optional<Pick> pick_of(const std::vector<float>& weights, float u) {
    float sum = 0;
    for (const float w : weights) sum += w;
    return pick(weights.size(), u * sum, [&](std::size_t i) { return weights[i]; });
}

TEST(Choices, EachAsOftenAsItsShareSays) {
    const std::vector<float> weights{1, 0, 3, 4};
    std::vector<int> times(weights.size());
    constexpr int draws = 8000;
    for (int i = 0; i < draws; ++i) {
        const auto p = pick_of(weights, (static_cast<float>(i) + 0.5F) / draws);
        ASSERT_TRUE(p);
        EXPECT_EQ(p->weight, weights[p->which]);
        ++times[p->which];
    }
    EXPECT_EQ(times, (std::vector<int>{1000, 0, 3000, 4000}));
}

TEST(Choices, TheRestIsEvenAgain) {
    // Numbers that are even over 0..1 and fall on the second entry (0.25 to 1) leave numbers even over 0..1.
    for (const float u : {0.25F, 0.4F, 0.625F, 0.9F})
        EXPECT_NEAR(pick_of({1, 3}, u)->rest, (u - 0.25F) / 0.75F, 1e-6F) << u;
}

TEST(Choices, Edges) {
    EXPECT_FALSE(pick_of({}, 0.5F));
    EXPECT_FALSE(pick_of({0, 0, 0}, 0.5F)) << "nothing to choose";
    EXPECT_EQ(pick_of({0, 2}, 0.0F)->which, 1U) << "an entry of no share is never drawn";
    EXPECT_EQ(pick_of({5}, 0.75F)->which, 0U);
    const auto last = pick_of({1, 1, 1}, one_below);
    ASSERT_TRUE(last);
    EXPECT_EQ(last->which, 2U);
    EXPECT_LT(last->rest, 1.0F);
    // Where the sum was rounded up, the number may lie past the last entry.
    const auto past = pick(2, 2.0000002F, [](std::size_t) { return 1.0F; });
    ASSERT_TRUE(past);
    EXPECT_EQ(past->which, 1U);
    EXPECT_EQ(past->rest, one_below);
}

}  // namespace
}  // namespace rushlight
