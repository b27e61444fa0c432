// rushlight day, as a person runs it.
#include "command/program.h"

#include <gtest/gtest.h>

namespace rushlight::testing_command {
namespace {

const std::vector<std::string> quick{"--from", "10:00",   "--to", "13:00",  "--step",
                                     "60m",    "--error", "20%",  "--seed", "3"};

Answer day(const Scratch& here, std::vector<std::string> words) {
    std::vector<std::string> all{"day", scene("river-gauge.toml")};
    all.insert(all.end(), words.begin(), words.end());
    all.insert(all.end(), quick.begin(), quick.end());
    return rushlight(here, all);
}

TEST(Day, SaysWhenTheSunComesAndDrawsIt) {
    const Scratch here;
    const Answer a = day(here, {"--setup", "1 main", "--weather", "clear,overcast", "-o", "d"});
    ASSERT_EQ(a.status, 0) << a;
    for (const char* word : {"Sun on A's face", "Sun on lap", "clear", "overcast", "headroom", "11:00 plan", "d.png"})
        EXPECT_NE(a.out.find(word), std::string::npos) << word << "\n" << a;
    EXPECT_EQ(a.out.find("mixed "), std::string::npos) << a;
    EXPECT_EQ(here.files().size(), 1U);
}

TEST(Day, OrdersSetupsAndRepeatsItself) {
    const Scratch here;
    const Answer a = day(here, {"--weather", "overcast", "--csv"});
    const Answer b = day(here, {"--weather", "overcast", "--csv", "--threads", "1"});
    ASSERT_EQ(a.status, 0) << a;
    EXPECT_EQ(a.out, b.out);
    const Answer c = day(here, {"--weather", "overcast"});
    EXPECT_NE(c.out.find("Suggested order, overcast weather"), std::string::npos) << c;
}

TEST(Day, RefusesInOneLine) {
    const Scratch here;
    for (const std::vector<std::string>& words : {std::vector<std::string>{"--weather", "sunny"},
                                                  {"--setup", "1 mian"},
                                                  {"--option", "none such"},
                                                  {"-o", "no/such/folder/d"}}) {
        const Answer a = day(here, words);
        EXPECT_NE(a.status, 0) << a;
        EXPECT_EQ(a.out, "") << a;
    }
    for (const auto& [from, to, step] :
         {std::tuple{"25:00", "26:00", "10m"}, {"12:00", "11:00", "10m"}, {"11:00", "12:00", "1s"}}) {
        const Answer a =
            rushlight(here, {"day", scene("river-gauge.toml"), "--from", from, "--to", to, "--step", step});
        EXPECT_EQ(a.status, 2) << a;
    }
    EXPECT_TRUE(here.files().empty());
}

}  // namespace
}  // namespace rushlight::testing_command
