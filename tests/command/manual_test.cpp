// The manual page and the completions tell of every command and option, and the tools that read them do so without a
// complaint.
#include "program.h"

#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>

namespace {

namespace fs = std::filesystem;

class Manual : public testing::Test {
protected:
    Manual() {
        std::string pattern = (fs::temp_directory_path() / "rushlight-manual-XXXXXX").string();
        folder_ = ::mkdtemp(pattern.data());
    }
    ~Manual() override { fs::remove_all(folder_); }

    /// Standard output of the shell's `line`, run in the folder; its exit status must be 0.
    std::string shell(const std::string& line) {
        const std::string out = (folder_ / "out").string();
        EXPECT_EQ(std::system(("cd '" + folder_.string() + "' && (" + line + ") >out 2>&1").c_str()), 0) << line;
        std::ifstream in(out);
        return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
    }
    bool has(const std::string& tool) { return std::system(("command -v " + tool + " >/dev/null").c_str()) == 0; }

    fs::path folder_;
    const std::string program_ = "'" RUSHLIGHT_BUILD "/rushlight'";
};

TEST_F(Manual, PageTellsOfEveryCommandAndFormatsWithoutWarnings) {
    const std::string page = shell(program_ + " manual man");
    for (const char* word : {"check", "read", "frame", "map", "origins", "compare", "balance", "day", "\\-\\-against"})
        EXPECT_NE(page.find(word), std::string::npos) << word;
    EXPECT_EQ(page.find(".SS rushlight manual"), std::string::npos) << "it is for packages";
    if (!has("groff")) GTEST_SKIP() << "groff is not installed";
    EXPECT_EQ(shell(program_ + " manual man > page.1; groff -man -ww -Tascii -z page.1"), "");
}

TEST_F(Manual, BashCompletesCommandsOptionsAndFiles) {
    if (!has("bash")) GTEST_SKIP() << "bash is not installed";
    std::ofstream(folder_ / "room.toml") << "\n";
    std::ofstream(folder_ / "notes.txt") << "\n";
    const auto completed = [&](const std::string& words, int at) {
        return shell(program_ + " manual bash > c.bash; bash -uc 'source ./c.bash; COMP_WORDS=(" + words +
                     "); COMP_CWORD=" + std::to_string(at) + "; _rushlight; echo \"${COMPREPLY[@]}\"'");
    };
    EXPECT_EQ(completed("rushlight ori", 1), "origins\n");
    EXPECT_EQ(completed("rushlight read --agai", 2), "--against\n");
    EXPECT_EQ(completed("rushlight read ro", 2), "room.toml\n");
    EXPECT_EQ(completed("rushlight read room.toml -o no", 4), "notes.txt\n");
}

}  // namespace
