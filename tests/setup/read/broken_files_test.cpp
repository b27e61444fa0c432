// Every file under broken/ begins with what it must be answered with, to the letter: a line for each mistake.
#include "setup/read/setup_file.h"
#include "setup/text/where.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

namespace rushlight {
namespace {

namespace fs = std::filesystem;

const fs::path broken = fs::path(RUSHLIGHT_SOURCE) / "tests/setup/broken";

std::vector<std::string> broken_files() {
    std::vector<std::string> names;
    for (const fs::directory_entry& e : fs::directory_iterator(broken))
        if (e.path().extension() == ".toml") names.push_back(e.path().filename().string());
    std::sort(names.begin(), names.end());
    return names;
}

/// What reading says, with the folder taken out; empty when the file is sound.
std::string answer(const fs::path& path) {
    try {
        SetupFile::read(path.string());
    } catch (const InputError& e) {
        std::string text = e.what();
        const std::string folder = path.parent_path().string() + "/";
        for (std::size_t at; (at = text.find(folder)) != std::string::npos;) text.erase(at, folder.size());
        return text;
    }
    return "";
}

class BrokenFile : public testing::TestWithParam<std::string> {};

TEST_P(BrokenFile, IsAnsweredInOneLineForEachMistake) {
    const std::string expect = "# expect: ";
    std::ifstream in(broken / GetParam());
    std::string wanted;
    for (std::string line; std::getline(in, line) && line.rfind(expect, 0) == 0;)
        wanted += (wanted.empty() ? "" : "\n") + line.substr(expect.size());
    ASSERT_NE(wanted, "");
    EXPECT_EQ(answer(broken / GetParam()), wanted);
}

INSTANTIATE_TEST_SUITE_P(All, BrokenFile, testing::ValuesIn(broken_files()), [](const auto& name) {
    std::string s = name.param.substr(0, name.param.find('.'));
    std::replace(s.begin(), s.end(), '-', '_');
    return s;
});

TEST(BrokenFiles, ThereAreMany) {
    EXPECT_GE(broken_files().size(), 40U);
}

TEST(BrokenFiles, MissingFileAndFolder) {
    EXPECT_EQ(answer(broken / "not-there.toml"), "not-there.toml: there is no such file; expected a set-up file");
    EXPECT_EQ(answer(broken), "broken: this is a folder; expected a set-up file");
}

TEST(BrokenFiles, TooLarge) {
    const fs::path large = fs::path(testing::TempDir()) / "rushlight-too-large.toml";
    { std::ofstream(large) << "a = 1"; }
    fs::resize_file(large, 17'000'000);
    EXPECT_EQ(answer(large), "rushlight-too-large.toml: the file has 17 MB; expected no more than 16 MB");
    fs::remove(large);
}

std::string said_of(const std::string& text) {
    try {
        SetupFile::from_text(text, "f.toml");
    } catch (const InputError& e) {
        return e.what();
    }
    return "";
}

TEST(BrokenFiles, DeepNestingIsRefused) {
    EXPECT_NE(said_of("a = " + std::string(100'000, '[')), "");
    std::string braces = "a = ";
    for (int i = 0; i < 100'000; ++i) braces += "{a=";
    EXPECT_NE(said_of(braces), "");
    std::string headers;
    for (int i = 0; i < 100'000; ++i) headers += i == 0 ? "[a" : ".a";
    EXPECT_EQ(said_of(headers + "]\n"), "f.toml:1:131: more than 64 dots between two words");
}

TEST(BrokenFiles, TooManyThings) {
    std::string text = "[place]\nroom = { width = 5, depth = 4, height = 2.7 }\n";
    for (int i = 0; i < 2'001; ++i) text += "[[lamp]]\n";
    // The first line; what each of the nameless lamps lacks follows.
    EXPECT_EQ(said_of(text).rfind("f.toml:3:1: 2001 times [[lamp]]; expected no more than 2000", 0), 0U);
}

TEST(BrokenFiles, StrangeLettersStayOnOneLine) {
    const std::string said = said_of("[place]\nroom = { \"wi\\ndth\" = 5 }\n");
    EXPECT_EQ(said.find('\n'), std::string::npos);
    EXPECT_NE(said.find("unknown key 'wi?dth'"), std::string::npos) << said;
}

// Whatever is cut off or struck by mistake, the answer is an InputError of a line for each thing that is wrong with it
// (two references to a name that was struck are two), or a sound file.
TEST(BrokenFiles, NoSlipOfTheFingersGetsThrough) {
    std::ifstream in(fs::path(RUSHLIGHT_SOURCE) / "scenes/workshop.toml");
    const std::string whole((std::istreambuf_iterator<char>(in)), std::istreambuf_iterator<char>());
    ASSERT_GT(whole.size(), 3000U);
    const std::string keys = "]=\"'\n{x0-.,[#\xff";
    int refused = 0;
    for (std::size_t at = 0; at < whole.size(); at += 23) {
        std::string struck = whole;
        struck[at] = keys[at % keys.size()];
        for (const std::string& text : {whole.substr(0, at), struck}) {
            const std::string said = said_of(text);
            std::istringstream lines(said);
            int count = 0;
            for (std::string line; std::getline(lines, line); ++count) EXPECT_EQ(line.rfind("f.toml:", 0), 0U) << said;
            EXPECT_LE(count, 3) << said;
            refused += said.empty() ? 0 : 1;
        }
    }
    EXPECT_GT(refused, 100);
}

}  // namespace
}  // namespace rushlight
