// How the desk opens the browser: what stands on a command line can be read by everybody on the machine.
#include "command/program.h"

#include <fcntl.h>

namespace rushlight {
namespace {

namespace fs = std::filesystem;
using testing_command::Scratch;

std::string contents(const fs::path& path) {
    std::ifstream in(path);
    std::ostringstream all;
    all << in.rdbuf();
    return all.str();
}

std::string wait_for(const fs::path& path, const char* word) {
    for (int i = 0; i < 500 && contents(path).find(word) == std::string::npos; ++i)
        std::this_thread::sleep_for(std::chrono::milliseconds(20));
    return contents(path);
}

TEST(DeskStart, NoKeyStandsOnACommandLine) {
    const Scratch scratch;
    fs::copy(fs::path(RUSHLIGHT_SOURCE) / "scenes/kitchen-night.toml", scratch / "place.toml");
    // A stand-in for the system's starter of browsers: it notes its words, and asks for the address as a browser would.
    scratch.with("xdg-open",
                 "#!/bin/sh\necho \"$@\" > words\n"
                 "curl -s -D head -o page \"$1\"\ncurl -s -D again -o page \"$1\"\necho done > done\n");
    fs::permissions(scratch / "xdg-open", fs::perms::owner_all);
    const pid_t child = ::fork();
    if (child == 0) {
        if (::chdir(scratch.folder.c_str()) != 0) ::_exit(9);
        ::setenv("PATH", (scratch.folder.string() + ":/usr/bin:/bin").c_str(), 1);
        ::setenv("DISPLAY", ":99", 1);
        ::setenv("XDG_CACHE_HOME", scratch.folder.c_str(), 1);
        const int said = ::open("said", O_WRONLY | O_CREAT, 0600);
        ::dup2(said, 1), ::dup2(said, 2);
        const std::string program = std::string(RUSHLIGHT_BUILD) + "/rushlight";
        ::execl(program.c_str(), "rushlight", "desk", "place.toml", nullptr);
        ::_exit(9);
    }
    wait_for(scratch / "done", "done");
    const std::string words = contents(scratch / "words"), said = contents(scratch / "said");
    const std::size_t key = said.find("key=");
    ASSERT_NE(key, std::string::npos) << said;
    EXPECT_EQ(words.compare(0, 17, "http://127.0.0.1:"), 0) << words;
    EXPECT_EQ(words.find("key="), std::string::npos) << words;
    EXPECT_EQ(words.find(said.substr(key + 4, 32)), std::string::npos) << words;
    if (fs::exists("/usr/bin/curl")) {
        EXPECT_NE(contents(scratch / "head").find("303"), std::string::npos) << contents(scratch / "head");
        EXPECT_NE(contents(scratch / "head").find("HttpOnly"), std::string::npos);
        EXPECT_NE(contents(scratch / "again").find("401"), std::string::npos) << "once only";
    }
    ::kill(child, SIGINT);
    int status = 0;
    ::waitpid(child, &status, 0);
    EXPECT_TRUE(WIFEXITED(status));
}

}  // namespace
}  // namespace rushlight
