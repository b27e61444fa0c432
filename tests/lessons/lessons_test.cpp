// Every number of a lesson that a law gives by hand, against that law.
#include "lessons/lessons.h"

#include <gtest/gtest.h>

namespace rushlight::lessons {
namespace {

class Lessons : public testing::TestWithParam<std::size_t> {};

TEST_P(Lessons, NumbersFollowTheLaw) {
    const Lesson lesson = all_lessons()[GetParam()];
    Runs runs(RUSHLIGHT_SOURCE "/scenes/lessons", 0.005);
    int by_law = 0;
    for (const Number& n : lesson.numbers(runs)) {
        if (std::isnan(n.expected)) continue;
        const Measured found = n.find();
        EXPECT_TRUE(std::isfinite(found.value) && std::isfinite(found.error)) << n.what;
        ++by_law;
        EXPECT_NEAR(found.value, n.expected, 4 * found.error + n.allowance) << lesson.title << ": " << n.what;
        // Sure enough to prove something: a twentieth of a stop, or three per cent of it.
        EXPECT_LT(found.error, n.unit == "stops" ? 0.05 : 0.03 * std::abs(n.expected) + 0.01) << n.what;
    }
    EXPECT_GT(by_law, 0) << "nothing here could fail";
}

INSTANTIATE_TEST_SUITE_P(All, Lessons, testing::Range(std::size_t{0}, std::size_t{10}));

}  // namespace
}  // namespace rushlight::lessons
