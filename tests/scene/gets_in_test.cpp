// How much of a lamp's light gets in: walks start from it accordingly.
#include "quantity/units.h"
#include "rooms_as_text.h"
#include "scene/scene.h"
#include "setup/read/setup_file.h"

#include <gtest/gtest.h>

#include <cmath>

namespace rushlight {
namespace {

std::string ball(const std::string& name, const std::string& at) {
    return "[[lamp]]\nname = \"" + name + "\"\nat = " + at + "\nshape = \"ball\"\nsize = 0.02\noutput = \"1000 lm\"\n";
}

TEST(GetsIn, WhatAnOpeningTakesOfABallsLight) {
    const Scene s =
        build_scene(SetupFile::from_text(
                        testing_rooms::room("4", "4", "3") +
                            "wall_thickness = 0.02\n[[place.opening]]\nname = \"window\"\nwall = \"near\"\nfrom = 1\n"
                            "to = 3\nsill = 0.9\nhead = 2.1\n[day]\ndark = true\n" +
                            ball("inside", "[2, 2, 1]") + ball("before the window", "[2, -1, 1.5]") +
                            ball("before the wall", "[-3, 2, 1.5]"),
                        "f.toml")
                        .setup());
    ASSERT_EQ(s.gets_in.size(), 3U);
    EXPECT_EQ(s.gets_in[0], 1.0F);
    // A rectangle seen from a point on its axis fills 4 asin(ab / sqrt((1 + a^2)(1 + b^2))), with half its sides over
    // the distance (Khadjavi 1968).
    const double a = 1.0, b = 0.6;
    const double share = 4 * std::asin(a * b / std::sqrt((1 + a * a) * (1 + b * b))) / (4 * pi);
    EXPECT_NEAR(static_cast<double>(s.gets_in[1]), share, 3 * std::sqrt(share * (1 - share) / 512));
    EXPECT_EQ(s.gets_in[2], 0.0F);
    // By the root of the share, with a floor for each.
    EXPECT_GT(s.lights.start_chance(0), 2 * s.lights.start_chance(1));
    EXPECT_GT(s.lights.start_chance(1), 2 * s.lights.start_chance(2));
    EXPECT_GT(s.lights.start_chance(2), 0.03F);
}

}  // namespace
}  // namespace rushlight
