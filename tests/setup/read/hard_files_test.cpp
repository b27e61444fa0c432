// Sound files that look odd are read; odd ones are told in our own words.
#include "setup/read/typed_file.h"
#include "setup/text/file_text.h"
#include "setup/text/metered_table.h"
#include "setup/text/where.h"

#include <stdlib.h>

#include <filesystem>
#include <fstream>

namespace rushlight {
namespace {

std::string said_of(const std::string& text, const std::string& path = "f.toml") {
    try {
        SetupFile::from_text(text, path);
    } catch (const InputError& e) {
        return e.what();
    }
    return "";
}

std::string dots(int n, const std::string& between) {
    std::string text;
    for (int i = 0; i < n; ++i) text += between + ".";
    return text;
}

TEST(HardFiles, DotsInCommentsNotesAndTitlesAreOnlyText) {
    const std::string setup = small_room + "[[setup]]\nname = \"one\"\n";
    EXPECT_EQ(said_of("# " + dots(200, " ") + "\n" + small_room), "");
    EXPECT_EQ(said_of(small_room + "# [" + dots(200, "a") + "\n"), "");
    EXPECT_EQ(said_of("title = \"" + dots(100, "a ") + "\"\n" + small_room), "");
    EXPECT_EQ(said_of(setup + "notes = \"" + dots(70, "A sentence") + "\"\n"), "");
    EXPECT_EQ(said_of(setup + "notes = '" + dots(70, "A \\") + "'\n"), "");
    EXPECT_EQ(said_of(setup + "notes = \"\"\"\n" + dots(70, "\\\"a") + "\"\"\"\"\"\n"), "");
    EXPECT_EQ(said_of(setup + "notes = '''" + dots(70, "'a") + "'''\n"), "");
    EXPECT_EQ(said_of(setup + "notes = \"\"   # " + dots(70, "a") + "\n"), "");
}

TEST(HardFiles, DotsAfterTextThatHasEndedStillCount) {
    for (const char* ended : {"\"\"\"a\"\"\"\"", "\"\"\"a\"\"\"\"\"", "'''a''''", "\"a\\\\\"", "'a\\'", "\"\"", "''"})
        EXPECT_NE(
            said_of(std::string("x = { y = ") + ended + ", " + dots(100, "a") + "b = 1 }\n").find("more than 64 dots"),
            std::string::npos)
            << ended;
    // Tables within tables count with the dots around them.
    EXPECT_NE(said_of(dots(40, "a") + "b = { " + dots(40, "a") + "b = 1 }\n").find("more than 64 dots"),
              std::string::npos);
}

TEST(HardFiles, BracketsWithinBracketsAreToldInOurWords) {
    EXPECT_EQ(said_of("a = " + std::string(300, '[') + std::string(300, ']') + "\n"),
              "f.toml:1:69: more than 64 brackets within each other");
    EXPECT_EQ(said_of("a = [\n" + std::string(300, '{') + "\n"),
              "f.toml:2:64: more than 64 brackets within each other");
}

TEST(HardFiles, MoreValuesThanAnybodyWrites) {
    std::string list = "a = [";
    for (int i = 0; i < 2'000'001; ++i) list += "1,";
    EXPECT_NE(said_of(list + "]\n").find("more than 2000000 values in one file"), std::string::npos);
}

TEST(HardFiles, HiddenLettersInATitleAreRefused) {
    EXPECT_EQ(said_of("title = \"a\\u001b[31m\"\n" + small_room),
              "f.toml:1:9: the file: title is 'a?[31m' with the hidden character U+001B");
    EXPECT_NE(said_of("title = \"a\\u202eb\"\n" + small_room).find("U+202E"), std::string::npos);
    EXPECT_EQ(SetupFile::from_text("title = \"two\\nlines\"\n" + small_room, "f.toml").title(), "two lines");
}

TEST(HardFiles, HiddenLettersInANameAreRefused) {
    for (const char* letter : {"\\u009b", "\\u202e", "\\u2028", "\\u0000"})
        EXPECT_NE(said_of(small_room + "[[mark]]\nname = \"a" + letter + "b\"\nat = [1, 1]\nfacing = 0\n")
                      .find("name is 'a?b'; expected 1 to 100 letters on one line"),
                  std::string::npos)
            << letter;
    EXPECT_EQ(said_of(small_room + "[[mark]]\nname = \"\xd7\x90\xd7\x91 \xe5\xbd\xb1\"\nat = [1, 1]\nfacing = 0\n"),
              "");
}

TEST(HardFiles, AWholeNumberTooLargeForARoomIsStillANumber) {
    EXPECT_NE(said_of("[place]\nroom = { width = 0x7fffffffffffffff, depth = 4, height = 3 }\n")
                  .find("width is 9.22337e+18 m; expected between"),
              std::string::npos);
}

TEST(HardFiles, AKeyTwiceIsToldByItsName) {
    const std::string said = said_of("[own]\n\"30300 W head\" = 1\n\"30300 W head\" = 2\n");
    EXPECT_NE(said.find("f.toml:3"), std::string::npos) << said;
    EXPECT_EQ(said.find("'\""), std::string::npos) << said;
    EXPECT_NE(said.find("'30300 W head'"), std::string::npos) << said;
}

TEST(HardFiles, TablesWhoseLinesEndWithCr) {
    const MeteredTable t = metered_table_from_text("what,lux\rbench,410\rtable,200\r", "scout.csv");
    ASSERT_EQ(t.lines.size(), 2U);
    EXPECT_EQ(t.lines[1].what, "table");
    EXPECT_EQ(t.lines[1].lux, 200);
    EXPECT_EQ(t.lines[1].line, 3);
}

TEST(HardFiles, FoldersAndPipesInPlaceOfWhatAFileNames) {
    namespace fs = std::filesystem;
    std::string pattern = (fs::temp_directory_path() / "rushlight-hard-XXXXXX").string();
    const fs::path folder = ::mkdtemp(pattern.data());
    fs::create_directory(folder / "chairs.obj");
    fs::create_symlink("loop.obj", folder / "loop.obj");
    const std::string path = (folder / "f.toml").string();
    const auto said = [&](const std::string& line) {
        return said_of(small_room + "[[place.furniture]]\nname = \"a\"\nat = [1, 1]\n" + line + "\n", path);
    };
    EXPECT_NE(said("obj = \"chairs.obj\"").find("obj is 'chairs.obj'; this is a folder"), std::string::npos);
    EXPECT_NE(said("obj = \"loop.obj\"").find("this is a link that leads back to itself"), std::string::npos);
    EXPECT_NE(said("width = 1\npicture = \"/dev/null\"").find("this is a device"), std::string::npos);
    EXPECT_NE(said_of("kit = \"chairs.obj\"\n" + small_room, path).find("this is a folder; expected a kit file"),
              std::string::npos);
    fs::remove_all(folder);
}

TEST(HardFiles, ReadingStopsWhenNobodyWaits) {
    int asked = 0;
    EXPECT_THROW(SetupFile::from_text(small_room, "f.toml", Patience([&] { return ++asked > 0; })), Stopped);
    // Once it is read, nobody asks again.
    bool lost = false;
    const SetupFile file = SetupFile::from_text(small_room, "f.toml", Patience([&] { return lost; }));
    lost = true;
    EXPECT_NO_THROW(file.setup());
}

}  // namespace
}  // namespace rushlight
