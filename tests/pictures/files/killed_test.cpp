// Ended at any moment while it writes: what it was to write is the old or the new, and whole.
#include "pictures/draw/image.h"
#include "pictures/files/write_folder.h"
#include "pictures/files/scratch.h"

#include <gtest/gtest.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <fstream>
#include <functional>
#include <random>
#include <set>
#include <thread>

namespace rushlight {
namespace {

namespace fs = std::filesystem;

using testing_pictures::bytes_of;
using testing_pictures::Scratch;

/// Lets a process of its own write again and again, and kills it; then looks at what there is.
void kill_often(const std::function<void(int turn)>& write, const std::function<void()>& look) {
    std::mt19937 random(7);
    // Within one to five writes, however long the disk takes for one; counted from when the process is there and has
    // written once, however long the machine takes for that.
    const auto start = std::chrono::steady_clock::now();
    write(0);
    const auto one = std::chrono::duration_cast<std::chrono::microseconds>(std::chrono::steady_clock::now() - start);
    const auto longest = std::max<std::int64_t>(4 * one.count(), 4000);
    for (int round = 0; round < 30; ++round) {
        int begun[2];
        ASSERT_EQ(::pipe(begun), 0);
        const pid_t child = ::fork();
        if (child == 0) {
            for (int turn = 0;; ++turn) {
                write(turn);
                if (turn == 0 && ::write(begun[1], "", 1) != 1) ::_exit(1);
            }
        }
        char once = 0;
        ASSERT_EQ(::read(begun[0], &once, 1), 1);
        for (const int end : begun) ::close(end);
        std::this_thread::sleep_for(std::chrono::microseconds(random() % longest));
        ::kill(child, SIGKILL);
        int status = 0;
        ::waitpid(child, &status, 0);
        ASSERT_TRUE(WIFSIGNALED(status)) << "it ended by itself";
        look();
    }
}

TEST(Killed, APictureIsTheOldOrTheNew) {
    const Scratch scratch;
    const fs::path place = scratch / "p.png", sample = scratch / "s.png";
    std::vector<std::string> either;
    std::vector<Image> images;
    for (const float grey : {0.2F, 0.8F}) {
        images.emplace_back(160, 90, Colour{grey, grey, grey});
        write_png(sample, images.back());
        either.push_back(bytes_of(sample));
    }
    write_png(place, images[0]);
    int seen[2] = {0, 0};
    kill_often([&](int turn) { write_png(place, images[turn % 2 == 0 ? 1 : 0]); },
               [&] {
                   const std::string there = bytes_of(place);
                   ASSERT_TRUE(there == either[0] || there == either[1]) << there.size() << " bytes";
                   ++seen[there == either[0] ? 0 : 1];
               });
    EXPECT_GT(seen[0] * seen[1], 0) << "the kills did not come while it wrote";
}

TEST(Killed, AFolderIsTheOldOrTheNew) {
    const Scratch scratch;
    const fs::path place = scratch / "brief";
    const auto files = [](int turn) {
        std::vector<FolderFile> all;
        for (int i = 0; i < 4; ++i)
            all.push_back({"page " + std::to_string(i), std::string(20'000, static_cast<char>('a' + turn % 20))});
        return all;
    };
    write_folder(place, files(0));
    std::set<std::string> seen;
    kill_often([&](int turn) { write_folder(place, files(turn)); },
               [&] {
                   const std::string first = bytes_of(place / "page 0");
                   ASSERT_EQ(first.size(), 20'000U);
                   seen.insert(first);
                   for (int i = 1; i < 4; ++i) ASSERT_EQ(bytes_of(place / ("page " + std::to_string(i))), first);
                   ASSERT_EQ(std::distance(fs::directory_iterator(place), fs::directory_iterator()), 4);
               });
    EXPECT_GT(seen.size(), 1U) << "the kills did not come while it wrote";
    write_folder(place, files(3));  // what was left by half is in nobody's way
    EXPECT_EQ(bytes_of(place / "page 3")[0], 'd');
}

/// In a container a program has the same number every time it is started.
TEST(Killed, WhatAnEarlierProcessOfThisNumberLeftIsInNobodysWay) {
    const Scratch scratch;
    for (int i = 0; i < 200; ++i) {
        const std::string left = ".rushlight-" + std::to_string(::getpid()) + "-" + std::to_string(i);
        std::ofstream(scratch / (left + ".partial")) << "half";
        fs::create_directory(scratch / "in");
        fs::create_directory(scratch / "in" / (left + ".partial"));
        std::ofstream(scratch / "in" / (left + ".partial") / "half") << "half";
        fs::create_directory(scratch / "in" / (left + ".making"));
        std::ofstream(scratch / "in" / (left + ".making") / "half") << "half";
    }
    write_file(scratch / "a.png", "whole");
    EXPECT_EQ(bytes_of(scratch / "a.png"), "whole");
    for (const char* text : {"one", "two"}) {
        write_folder(scratch / "in" / "brief", {{"page", text}});
        EXPECT_EQ(bytes_of(scratch / "in" / "brief" / "page"), text);
        EXPECT_FALSE(fs::exists(scratch / "in" / "brief" / "half"));
    }
}

}  // namespace
}  // namespace rushlight
