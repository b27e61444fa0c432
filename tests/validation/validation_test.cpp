// Every row of the list, one test each.
#include "cases.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cctype>

namespace rushlight::validation {

void PrintTo(const Case& c, std::ostream* out) {
    *out << c.id << " " << c.what;
}

namespace {

class Validation : public testing::TestWithParam<Case> {};

TEST_P(Validation, Row) {
    const Case& c = GetParam();
    Measured got;
    try {
        got = c.measure();
    } catch (const NotInstalled& missing) {
        GTEST_SKIP() << missing.what();
    }
    EXPECT_TRUE(std::isfinite(got.value) && std::isfinite(got.error));
    EXPECT_TRUE(sure_enough(c, got)) << "error " << got.error << ": too noisy to prove anything";
    EXPECT_TRUE(agrees(c, got)) << c.id << " " << c.what << ": got " << got.value << " +- " << got.error << " "
                                << c.unit << ", expected " << c.expected << " +- " << c.tolerance();
}

INSTANTIATE_TEST_SUITE_P(All, Validation, testing::ValuesIn(all_cases()), [](const auto& p) {
    std::string name = p.param.id;
    std::replace_if(
        name.begin(), name.end(), [](unsigned char c) { return !std::isalnum(c); }, '_');
    return name;
});

// A row that could not fail would show nothing.
TEST(ValidationList, EveryRowCanFail) {
    std::vector<std::string> ids;
    for (const Case& c : all_cases()) {
        EXPECT_GT(c.tolerance(), 0) << c.id;
        EXPECT_LE(c.tolerance_relative, 0.01 + (c.section == "Colour" ? 0.026 : 0)) << c.id;  // a twentieth of a stop
        EXPECT_FALSE(c.source.empty() || c.what.empty() || c.section.empty()) << c.id;
        ids.push_back(c.id);
    }
    std::sort(ids.begin(), ids.end());
    EXPECT_EQ(std::adjacent_find(ids.begin(), ids.end()), ids.end()) << "two rows of one number";
}

}  // namespace
}  // namespace rushlight::validation
