// A file with several mistakes is answered with all of them, a line each, in the order of the file.
#include "setup/read/setup_file.h"
#include "setup/text/where.h"

#include <gtest/gtest.h>

#include <sstream>
#include <string>
#include <vector>

namespace rushlight {
namespace {

std::vector<std::string> answers(const std::string& text) {
    std::vector<std::string> lines;
    try {
        SetupFile::from_text(text, "f.toml");
    } catch (const InputError& e) {
        std::istringstream all(e.what());
        for (std::string line; std::getline(all, line);) lines.push_back(line);
    }
    return lines;
}

const std::string sound = R"(
[place]
room = { width = 5, depth = 4, height = 2.7 }

[[mark]]
name = "A"
at = [2, 2]
facing = 0
)";

bool begins(const std::string& line, const std::string& with) {
    return line.rfind(with, 0) == 0;
}

TEST(EveryError, IsToldInTheOrderOfTheFile) {
    const auto said = answers(R"(
[place]
latitude = 95
near_wall_faces = "SSX"
room = { width = 5, depth = 4, height = 2.7 }

[[mark]]
name = "A"
at = [2, 2]
facing = 0
person = { pose = "slouching" }

[[lamp]]
name = "key"
shape = "hard"
output = "9000 lm"
at = [1, 1, 2]
aim = "Bee"
dimm = 3
)");
    ASSERT_EQ(said.size(), 5U) << testing::PrintToString(said);
    EXPECT_TRUE(begins(said[0], "f.toml:3:12: ")) << said[0];
    EXPECT_TRUE(begins(said[1], "f.toml:4:19: ")) << said[1];
    EXPECT_TRUE(begins(said[2], "f.toml:11:19: ")) << said[2];
    EXPECT_TRUE(begins(said[3], "f.toml:18:7: ")) << said[3];
    EXPECT_TRUE(begins(said[4], "f.toml:19:1: ")) << said[4];
}

TEST(EveryError, WhatIsOnlyWrongBecauseOfAnotherIsNotTold) {
    // Without its place mark B cannot be read, and then nothing can be aimed at it: one mistake, one line.
    const auto said = answers(sound + R"(
[[mark]]
name = "B"
at = "there"
facing = 0

[[lamp]]
name = "key"
shape = "hard"
output = "9000 lm"
at = [1, 1, 2]
aim = "B"
)");
    ASSERT_EQ(said.size(), 1U) << testing::PrintToString(said);
    EXPECT_TRUE(begins(said[0], "f.toml:12:6: ")) << said[0];
}

TEST(EveryError, ASoundFileHasNone) {
    EXPECT_TRUE(answers(sound).empty());
}

TEST(EveryError, ManyAreBounded) {
    std::string many = sound;
    for (int i = 0; i < 60; ++i)
        many +=
            "[[flag]]\nname = \"f" + std::to_string(i) + "\"\nat = [1, 1, 1]\nfacing = \"A\"\nsize = 1\ncolor = 1\n";
    const auto said = answers(many);
    EXPECT_GE(said.size(), 2U);
    EXPECT_LE(said.size(), 20U);
}

TEST(EveryError, AKeyThatNobodyKnowsIsExplained) {
    const auto said = answers(sound + "\n[[place.mirror]]\nname = \"m\"\n");
    ASSERT_EQ(said.size(), 1U) << testing::PrintToString(said);
    EXPECT_NE(said[0].find("a mirror is furniture with finish = \"mirror\""), std::string::npos) << said[0];
}

}  // namespace
}  // namespace rushlight
