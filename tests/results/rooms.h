// Set-ups written as people write them, for tests of what is made of their light.
#pragma once

#include "results/readings/readings.h"
#include "setup/read/setup_file.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <string>

#include <unistd.h>

namespace rushlight::rooms {

/// Two lamps and a window; a third lamp is off. One person, one meter on the table.
inline const std::string two_lamps = R"(
[place]
latitude = 50
longitude = 8
room = { width = 5, depth = 4, height = 2.7 }
surfaces = { walls = { reflectance = 0.5, hue = "cream" }, floor = 0.2, ceiling = 0.7 }
[[place.opening]]
name = "window"
wall = "near"
from = 1
to = 2
sill = 1
head = 2
[day]
sky = "overcast"
time_zone = "UTC+1"
[[mark]]
name = "A"
at = [2.5, 2.0]
facing = [5, 2]
[[camera]]
name = "close"
at = [4.5, 1.5, 1.5]
look_at = "A"
lens = 50
[[meter]]
name = "table"
at = [2.5, 2.6, 0.8]
[[lamp]]
name = "key"
shape = "box"
at = [4, 3.4, 2]
aim = "A"
size = 0.6
output = "4000 lm"
gel = "half orange"
level = "50%"
[[lamp]]
name = "back"
shape = "hard"
at = [1.5, 3.7, 2.2]
aim = "A"
output = "1500 lx at 3 m"
[[lamp]]
name = "spare"
shape = "ball"
at = [2.5, 1, 2.2]
output = "2000 lm"
on = false
)";

inline Setup setup_of(const std::string& text, const std::string& option = "as found") {
    return SetupFile::from_text(text, "room.toml").setup("as found", option);
}

inline Effort effort(double error, std::uint64_t seed = 3) {
    Effort e;
    e.relative_error = error;
    e.seed = seed;
    e.most_seconds = 120;
    return e;
}

/// A folder for one test, removed when the test is over.
struct Folder {
    std::filesystem::path path;
    Folder() {
        std::string pattern = (std::filesystem::temp_directory_path() / "rushlight-results-XXXXXX").string();
        path = ::mkdtemp(pattern.data());
    }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    ~Folder() {
        std::error_code ignored;
        std::filesystem::remove_all(path, ignored);
    }
};

inline const Reading& named(const Sheet& sheet, const std::string& name) {
    for (const Reading& r : sheet.readings)
        if (r.name == name) return r;
    throw std::runtime_error("no reading " + name);
}

}  // namespace rushlight::rooms
