// A folder for one test with a set-up file in it, removed when the test is over.
#pragma once

#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

namespace rushlight::testing_desk {

inline const std::string small_place = R"(title = "small"   # a comment
[place]
room = { width = 4, depth = 3, height = 2.6 }
[[place.opening]]
name = "window"
wall = "near"
from = 1
to = 2
sill = 0.9
head = 2
[day]
dark = true

[[lamp]]     # the first
name = "key"
shape = "ball"
at = [1.0, 1.5, 2.0]  # from the left
size = 0.3
output = "900 lm"
level = "50%"  # half

[[lamp]]
name = "far"
shape = "ball"
at = [3.0, 1.5, 2.0]
size = 0.2
kelvin = 3200
light = "tungsten"
output = "600 lm"
gel = "quarter blue"
[[mark]]
name = "A"
at = [2, 1.5]
facing = 0
[[camera]]
name = "close"
at = [3.6, 1.6, 1.6]
look_at = "A"
[[meter]]
name = "middle"
at = [2, 1, 0.8]
[[option]]
name = "low"
)";

struct Scratch {
    std::filesystem::path folder;

    Scratch() {
        const auto* test = ::testing::UnitTest::GetInstance()->current_test_info();
        folder = std::filesystem::temp_directory_path() /
                 ("rushlight-desk-" + std::string(test->name()) + "-" + std::to_string(::getpid()));
        std::filesystem::create_directories(folder);
        write("place.toml", small_place);
    }
    Scratch(const Scratch&) = delete;
    Scratch& operator=(const Scratch&) = delete;
    ~Scratch() {
        std::error_code ignored;
        std::filesystem::remove_all(folder, ignored);
    }
    std::filesystem::path file() const { return folder / "place.toml"; }
    void write(const std::string& name, const std::string& text) const {
        std::ofstream(folder / name, std::ios::binary) << text;
    }
    std::string text(const std::string& name = "place.toml") const {
        std::ifstream in(folder / name, std::ios::binary);
        std::ostringstream all;
        all << in.rdbuf();
        return all.str();
    }
    std::size_t files() const {
        std::size_t n = 0;
        for ([[maybe_unused]] const auto& entry : std::filesystem::directory_iterator(folder)) ++n;
        return n;
    }
};

}  // namespace rushlight::testing_desk
