// A brief that is quick to make: nobody on the marks, two lamps, two options.
#pragma once

#include "results/brief/brief.h"

#include <string>

namespace rushlight::testing_pictures {

inline const std::string brief_room = R"file(
title = "A \"quoted\" <title>, with, commas & </script> (invented)"
[place]
latitude = 50
longitude = 8
room = { width = 5, depth = 4, height = 2.7 }
surfaces = { walls = 0.5, floor = 0.2, ceiling = 0.7 }
[[place.opening]]
name = "window, large"
wall = "near"
from = 1
to = 3
sill = 0.9
head = 2.1
[day]
sky = "overcast"
time_zone = "UTC+1"
[[circuit]]
name = "ring"
amps = 13
[[camera]]
name = "one"
at = [4, 3.5, 1.5]
look_at = [2, 1, 1]
[[meter]]
name = "table"
at = [2.5, 2, 0.8]
[[lamp]]
name = "key"
shape = "hard"
at = [1, 3, 2]
aim = [2.5, 2, 0.8]
output = "3000 lx at 3 m"
watts = 375
circuit = "ring"
gel = ["half orange", "nd 0.3"]
[[lamp]]
name = "ball"
shape = "ball"
at = [3, 3, 2]
output = "2000 lm"
level = "25%"
[[board]]
name = "white"
at = [1, 1, 1]
facing = [2.5, 2, 0.8]
size = [1.2, 2.4]
[[option]]
name = "without the board"
remove = ["white"]
)file";

inline Brief small_brief() {
    const SetupFile file = SetupFile::from_text(brief_room, "room.toml");
    BriefWish wish;
    wish.seconds = 0.5;
    wish.width = 160;
    wish.hours.step = 3;
    Effort effort;
    effort.seed = 4;
    return make_brief(file, plan_brief(file, wish), wish, effort, LayerCache(std::filesystem::path()));
}

}  // namespace rushlight::testing_pictures
