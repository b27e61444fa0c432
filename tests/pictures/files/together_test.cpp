// Files that belong together, written by a process that is killed at every one of its calls to the system: afterwards
// either both are old or both are new, and nothing of it lies about.
#include "pictures/files/left_behind.h"
#include "pictures/files/scratch.h"
#include "pictures/files/write_folder.h"

#include <fcntl.h>
#include <signal.h>
#include <sys/file.h>
#include <sys/ptrace.h>
#include <sys/stat.h>
#include <sys/wait.h>

#include <functional>

namespace rushlight {
namespace {

namespace fs = std::filesystem;
using testing_pictures::bytes_of;
using testing_pictures::Scratch;

/// Whether the process was killed before the call numbered `number`, or came to its end before.
bool killed_at(int number, const std::function<void()>& work) {
    const pid_t child = ::fork();
    if (child == 0) {
        if (::ptrace(PTRACE_TRACEME, 0, nullptr, nullptr) != 0) ::_exit(3);
        ::raise(SIGSTOP);
        work();
        ::_exit(0);
    }
    int status = 0;
    ::waitpid(child, &status, 0);
    if (WIFEXITED(status)) return false;
    for (int call = 0; call < number; ++call) {
        ::ptrace(PTRACE_SYSCALL, child, nullptr, nullptr);
        ::waitpid(child, &status, 0);
        if (WIFEXITED(status)) return false;
    }
    ::kill(child, SIGKILL);
    ::waitpid(child, &status, 0);
    return true;
}

bool may_watch_a_process() {
    return killed_at(0, [] {});
}

TEST(Together, KilledAtAnyCallBothAreOldOrBothAreNew) {
    if (!may_watch_a_process()) GTEST_SKIP() << "no right to watch a process";
    const Scratch scratch;
    const auto write = [&](const std::string& what) {
        write_together({{scratch / "f.exr", what + " exr"}, {scratch / "f.png", what + " png"}});
    };
    int kills = 0, old = 0, fresh = 0, half = 0;
    for (bool killed = true; killed; ++kills) {
        write("old");
        killed = killed_at(kills, [&] { write("new"); });
        half += bytes_of(scratch / "f.exr").substr(0, 3) != bytes_of(scratch / "f.png").substr(0, 3) ? 1 : 0;
        settle_what_was_left(scratch.folder);
        const std::string exr = bytes_of(scratch / "f.exr"), png = bytes_of(scratch / "f.png");
        ASSERT_TRUE((exr == "old exr" && png == "old png") || (exr == "new exr" && png == "new png"))
            << "killed at " << kills << ": " << exr << ", " << png;
        ++(exr == "old exr" ? old : fresh);
        ASSERT_EQ(scratch.files(), 2U) << "killed at " << kills;
        ASSERT_LT(kills, 2000);
    }
    EXPECT_GT(old, 10);
    EXPECT_GT(fresh, 3);
    EXPECT_GT(half, 0) << "no kill came between the two, so nothing was proved";
}

TEST(Together, AFolderKilledAtAnyCallLeavesNothingBeside) {
    if (!may_watch_a_process()) GTEST_SKIP() << "no right to watch a process";
    const Scratch scratch;
    const fs::path place = scratch / "brief";
    for (int number = 0; killed_at(number,
                                   [&] {
                                       write_folder(place, {{"page", "new"}, {"data", "new"}});
                                   });
         ++number) {
        expect_folder_writable(place);
        ASSERT_LE(scratch.files(), 1U) << "killed at " << number;
        if (!fs::exists(place)) continue;
        ASSERT_EQ(bytes_of(place / "page"), "new");
        ASSERT_EQ(bytes_of(place / "data"), "new");
        fs::remove_all(place);
        ASSERT_LT(number, 2000);
    }
}

TEST(LeftBehind, WhatALivingProcessHoldsStays) {
    const Scratch scratch;
    const fs::path partial = scratch / ".rushlight-1-7.partial", making = scratch / ".rushlight-1-8.making";
    std::ofstream(partial) << "half";
    fs::create_directory(making);
    const int held = ::open(partial.c_str(), O_RDONLY), folder = ::open(making.c_str(), O_RDONLY | O_DIRECTORY);
    ASSERT_EQ(::flock(held, LOCK_EX), 0);
    ASSERT_EQ(::flock(folder, LOCK_EX), 0);
    write_file(scratch / "a", "whole");
    expect_writable(scratch / "a");
    EXPECT_TRUE(fs::exists(partial) && fs::exists(making));
    ::close(held);
    ::close(folder);
    expect_writable(scratch / "a");
    EXPECT_FALSE(fs::exists(partial) || fs::exists(making));
}

TEST(LeftBehind, OnlyWhatIsOursIsTouched) {
    const Scratch scratch;
    ASSERT_EQ(::mkfifo((scratch / ".rushlight-1-2.partial").c_str(), 0600), 0);
    fs::create_symlink("elsewhere", scratch / ".rushlight-1-3.partial");
    std::ofstream(scratch / ".rushlight-mine.partial") << "mine";
    std::ofstream(scratch / "elsewhere") << "kept";
    // A decision that somebody else wrote, about files that are none of ours.
    const auto line = [](const char* words) { return std::string(words) + '\0'; };
    std::ofstream(scratch / ".rushlight-1-4.decided") << line("rushlight decided 1") + line("elsewhere") +
                                                             line("f.png") + line(".rushlight-1-3.partial") +
                                                             line("../f.png");
    settle_what_was_left(scratch.folder);
    EXPECT_FALSE(fs::exists(scratch / "f.png"));
    EXPECT_EQ(bytes_of(scratch / "elsewhere"), "kept");
    EXPECT_EQ(scratch.files(), 4U);
}

TEST(WriteFile, WritesOverNothingThatIsNoPlainFile) {
    const Scratch scratch;
    ASSERT_EQ(::mkfifo((scratch / "pipe").c_str(), 0600), 0);
    fs::create_symlink(scratch / "pipe", scratch / "to pipe");
    fs::create_symlink("nowhere", scratch / "to nowhere");
    fs::create_directory(scratch / "folder");
    for (const char* name : {"pipe", "to pipe", "to nowhere", "folder"}) {
        EXPECT_THROW(write_file(scratch / name, "x"), OutputError) << name;
        EXPECT_THROW(expect_writable(scratch / name), OutputError) << name;
        EXPECT_THROW(write_together({{scratch / "other", "x"}, {scratch / name, "x"}}), OutputError) << name;
    }
    EXPECT_TRUE(fs::is_fifo(scratch / "pipe"));
    EXPECT_EQ(scratch.files(), 4U);
    EXPECT_THROW(write_file("/dev/null", "x"), OutputError);
    EXPECT_TRUE(fs::is_character_file("/dev/null"));
}

TEST(WriteFile, ALinkStaysAndWhatItLeadsToIsReplaced) {
    const Scratch scratch;
    std::ofstream(scratch / "file") << "old";
    fs::create_symlink("file", scratch / "link");
    write_file(scratch / "link", "new");
    EXPECT_TRUE(fs::is_symlink(scratch / "link"));
    EXPECT_EQ(bytes_of(scratch / "file"), "new");
}

}  // namespace
}  // namespace rushlight
