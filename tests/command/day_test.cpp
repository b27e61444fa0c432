// rushlight day, as a person runs it.
#include "command/program.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <sstream>

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

// Columns keep their earlier names for one version, beside the new ones.
TEST(Day, ItsColumnsHaveTheirEarlierNamesToo) {
    const Scratch here;
    const Answer a = day(here, {"--setup", "1 main", "--weather", "overcast", "--csv"});
    ASSERT_EQ(a.status, 0) << a;
    std::istringstream lines(a.out);
    std::vector<std::string> head;
    int faces = 0;
    for (std::string line; std::getline(lines, line);) {
        if (!line.empty() && line.back() == '\r') line.pop_back();
        std::vector<std::string> cells;
        std::istringstream row(line + ",");
        for (std::string cell; std::getline(row, cell, ',');) cells.push_back(cell);
        if (head.empty()) head = cells;
        ASSERT_EQ(cells.size(), head.size()) << line;
        const auto at = [&](const char* name) {
            return cells[static_cast<std::size_t>(std::find(head.begin(), head.end(), name) - head.begin())];
        };
        if (cells[4] != "face") continue;
        ++faces;
        EXPECT_FALSE(at("key_fill_stops").empty()) << line;
        EXPECT_EQ(at("key_fill_stops"), at("key_to_fill_stops")) << line;
        EXPECT_EQ(at("error_key_fill"), at("error_key_to_fill")) << line;
    }
    EXPECT_GT(faces, 0);
}

TEST(Day, WorksTheHoursOfTheFile) {
    const Scratch here;
    const std::string file = here.with("room.toml", "hours = [\"10:00\", \"12:00\"]\n" + room + overcast + window +
                                                        lamp + "[[mark]]\nname = \"A\"\nat = [2, 2]\nfacing = 0\n");
    const auto hours = [&](std::vector<std::string> more) {
        std::vector<std::string> all{"day", file, "--weather", "overcast", "--step", "60m", "--error", "20%", "--csv"};
        all.insert(all.end(), more.begin(), more.end());
        return rushlight(here, all).out;
    };
    const std::string own = hours({});
    EXPECT_NE(own.find(",10:00,"), std::string::npos) << own;
    EXPECT_EQ(own.find(",07:00,"), std::string::npos) << own;
    EXPECT_EQ(own.find(",13:00,"), std::string::npos) << own;
    EXPECT_NE(hours({"--to", "13:00"}).find(",13:00,"), std::string::npos);
    const std::string wrong = here.with("wrong.toml", "hours = [\"12:00\", \"10:00\"]\n" + room + overcast);
    const Answer a = rushlight(here, {"check", wrong});
    EXPECT_EQ(a.status, 2) << a;
    EXPECT_TRUE(a.says("1:9: the file: hours ends before it begins")) << a;
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
