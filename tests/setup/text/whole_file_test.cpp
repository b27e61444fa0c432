// Only plain files are read, and what stands in a file's place is called by its name.
#include "setup/text/whole_file.h"

#include "setup/text/code_points.h"
#include "setup/text/where.h"
#include "setup/text/words.h"

#include <gtest/gtest.h>

#include <sys/stat.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>

namespace rushlight {
namespace {

namespace fs = std::filesystem;

class WholeFile : public testing::Test {
protected:
    void SetUp() override {
        std::string name = (fs::temp_directory_path() / "rushlight-files-XXXXXX").string();
        ASSERT_NE(::mkdtemp(name.data()), nullptr);
        folder = name;
    }
    void TearDown() override { fs::remove_all(folder); }
    std::string at(const std::string& name) const { return (folder / name).string(); }
    fs::path folder;
};

TEST_F(WholeFile, FoldersPipesDevicesAndLinkLoopsAreToldAsWhatTheyAre) {
    EXPECT_EQ(trouble_with_file(at("none")), "there is no such file");
    EXPECT_EQ(trouble_with_file(at("none") + "/x"), "there is no such file");
    EXPECT_EQ(trouble_with_file(folder.string()), "this is a folder");
    ASSERT_EQ(::mkfifo(at("pipe").c_str(), 0600), 0);
    EXPECT_EQ(trouble_with_file(at("pipe")), "this is a pipe and no plain file");
    EXPECT_EQ(trouble_with_file("/dev/null"), "this is a device and no plain file");
    fs::create_symlink(at("b"), at("a"));
    fs::create_symlink(at("a"), at("b"));
    EXPECT_EQ(trouble_with_file(at("a")), "this is a link that leads back to itself");
    EXPECT_EQ(trouble_with_file(at(std::string(300, 'n'))), "its name is too long for a file");
    EXPECT_EQ(trouble_with_file(at(std::string("a\0b", 3))), "no file has a byte 0x00 in its name");
    std::ofstream(at("plain")) << "words";
    EXPECT_EQ(trouble_with_file(at("plain")), "");
    EXPECT_EQ(whole_file(at("plain"), 5, "words"), "words");
    EXPECT_THROW(whole_file(at("plain"), 4, "words"), InputError);
    if (::geteuid() == 0) return;  // root may read everything
    fs::permissions(at("plain"), fs::perms::none);
    EXPECT_EQ(trouble_with_file(at("plain")), "you have no right to read it");
}

TEST_F(WholeFile, WhatHasNoLengthIsNotWaitedFor) {
    std::ofstream(at("empty")).close();
    EXPECT_EQ(whole_file(at("empty"), 5, "words"), "");
    // Files of the system that look plain, have no length, and may never end.
    for (const char* name : {"/proc/kmsg", "/proc/self/environ"})
        if (trouble_with_file(name).empty()) {
            EXPECT_EQ(whole_file(name, 1000, "words"), "") << name;
        }
}

TEST(Letters, WhatATerminalObeysIsNotShown) {
    EXPECT_EQ(shown("Stra\xc3\x9f"
                    "e \xe5\xbd\xb1 \xf0\x9f\x92\xa1"),
              "Stra\xc3\x9f"
              "e \xe5\xbd\xb1 \xf0\x9f\x92\xa1");
    EXPECT_EQ(shown(std::string("a\0b\x1b[31m\x7f", 9)), "a?b?[31m?");
    EXPECT_EQ(shown("a\xc2\x9b"
                    "31m"),
              "a?31m");  // U+009B
    EXPECT_EQ(shown("a\xe2\x80\xae"
                    "b\xe2\x81\xa6"),
              "a?b?");  // U+202E, U+2066
    EXPECT_EQ(shown("\xff"
                    "a\xc3"),
              "?a?");
    EXPECT_EQ(hidden_letter("title \x1b[2J"), "U+001B");
    EXPECT_EQ(hidden_letter("a\xe2\x80\xae"), "U+202E");
    EXPECT_EQ(hidden_letter("two\nlines", "\n\t"), "");
    EXPECT_EQ(in_quotes("a\xc2\x9b"
                        "b"),
              "'a?b'");
    EXPECT_EQ(hint("zzz", {"a\x1b[0m"}), "; expected one of: a?[0m");
    // Cut between letters, never within one.
    std::string accents;
    for (int i = 0; i < 45; ++i) accents += "\xc3\xa9";
    EXPECT_EQ(in_quotes(accents), "'" + accents.substr(0, 60) + "...'");
}

}  // namespace
}  // namespace rushlight
