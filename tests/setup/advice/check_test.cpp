#include "setup/advice/check.h"
#include "setup/plain/whereabouts.h"
#include "setup/read/setup_file.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace rushlight {
namespace {

const std::string room = R"([place]
wall_thickness = 0.4
room = { width = 5, depth = 4, height = 2.7 }
[[place.opening]]
name = "window"
wall = "near"
from = 2
to = 3
sill = 1
head = 2
[[place.furniture]]
name = "cupboard"
at = [4.5, 3.5]
size = [1, 1, 2]
turn = 45
)";

std::vector<std::string> remarks(const std::string& rig, const std::string& day = "dark = true") {
    return careful_remarks(SetupFile::from_text(room + "[day]\n" + day + "\n" + rig, "f.toml").setup());
}

std::string lamp(const std::string& at, const std::string& more = "output = \"9000 lm\"") {
    return "[[lamp]]\nname = \"key\"\nshape = \"hard\"\nsize = 0.02\nat = " + at + "\naim = [2.5, 2, 1.5]\n" + more +
           "\n";
}
std::string mark(const std::string& name, const std::string& at, const std::string& more = "") {
    return "[[mark]]\nname = \"" + name + "\"\nat = " + at + "\nfacing = 0\n" + more + "\n";
}
std::string flag(const std::string& at, const std::string& facing) {
    return "[[flag]]\nname = \"black\"\nsize = 1.2\nat = " + at + "\nfacing = " + facing + "\n";
}

bool says(const std::vector<std::string>& all, const std::string& part) {
    return std::any_of(all.begin(), all.end(), [&](const std::string& s) { return s.find(part) != std::string::npos; });
}

TEST(CarefulRemarks, NoLight) {
    EXPECT_EQ(remarks(""), std::vector<std::string>{"There is no light at all: no lamp is on and the day is dark."});
    EXPECT_FALSE(says(remarks("", "sky = \"clear\""), "no light"));
    EXPECT_FALSE(says(remarks(lamp("[1, 1, 1]")), "no light"));
    EXPECT_TRUE(says(remarks(lamp("[1, 1, 1]", "output = \"9000 lm\"\nlevel = 0")), "no light"));
}

TEST(CarefulRemarks, LampsInWallsAndOutside) {
    EXPECT_TRUE(says(remarks(lamp("[1, -0.2, 1.5]")), "Lamp 'key' is inside a wall."));
    EXPECT_FALSE(says(remarks(lamp("[2.5, -0.2, 1.5]")), "inside a wall"));  // in the reveal of the window
    EXPECT_TRUE(says(remarks(lamp("[2.5, -3, 1.5]")), "outside and can shine in through 'window'"));
    EXPECT_TRUE(says(remarks(lamp("[2.5, 9, 1.5]")), "shines in through no opening"));
    EXPECT_TRUE(says(remarks(lamp("[4.5, 3.5, 1]")), "Lamp 'key' is inside 'cupboard'."));
    EXPECT_FALSE(says(remarks(lamp("[3.9, 2.9, 1]")), "inside 'cupboard'"));  // outside its turned corner
}

// The beam against the opening: its middle may lie outside a narrow beam that an edge is in, and a thing may stand
// between.
TEST(CarefulRemarks, ALampOutsideIsHeldAgainstTheWholeOpening) {
    const auto spot = [](const std::string& at, const std::string& aim, const std::string& more = "") {
        return remarks(
            "[[lamp]]\nname = \"key\"\nshape = \"hard\"\nsize = 0.02\nbeam = 10\nfield = 16\noutput = \"9000 lm\"\nat "
            "= " +
            at + "\naim = " + aim + "\n" + more);
    };
    // 2 m off, aimed 0.4 m beside the middle of a window 1 m wide: 11 degrees, and the beam ends at 8.
    EXPECT_TRUE(says(spot("[2.5, -2.4, 1.5]", "[2.9, -0.4, 1.5]"), "can shine in through 'window'"));
    // 0.9 m beside it the nearest edge, 0.4 m away, is 12 degrees off.
    EXPECT_TRUE(says(spot("[2.5, -2.4, 1.5]", "[3.4, -0.4, 1.5]"), "shines in through no opening"));
    const std::string car =
        "[[setup]]\nname = \"1\"\n[[setup.add.furniture]]\nname = \"car\"\nat = [2.5, -1.5]\nsize = [4, 0.6, 1.8]\n";
    EXPECT_TRUE(says(spot("[2.5, -2.4, 1.0]", "[2.5, 0, 1.4]", car), "'car' is between its beam and 'window'"));
    EXPECT_TRUE(says(spot("[2.5, -2.4, 2.4]", "[2.5, 0, 1.8]", car), "can shine in through 'window'"))
        << "over its roof";
    EXPECT_TRUE(says(spot("[2.5, -1.5, 2.0]", "[2.5, 0, 1.6]", car), "is over 'car': its stand needs an arm"));
    const std::string shut = "[[setup]]\nname = \"1\"\n[setup.change.opening.window]\nblind = { tilt = 85 }\n";
    EXPECT_TRUE(says(spot("[2.5, -2.4, 1.5]", "[2.5, 0, 1.5]", shut), "but the blind there is drawn and shut"));
}

// Peak candela times the beam's solid angle cannot pass the bare flux: 0.71 sr at 55 degrees.
TEST(CarefulRemarks, OutputThatNoHeadHas) {
    EXPECT_FALSE(says(remarks(lamp("[1, 1, 1]", "output = \"150000 cd\"\nbeam = 55")), "Is the output right?"));
    EXPECT_TRUE(says(remarks(lamp("[1, 1, 1]", "output = \"200000 cd\"\nbeam = 55")), "142,000 lm in its beam alone"));
    EXPECT_FALSE(says(remarks(lamp("[1, 1, 1]", "output = \"200000 cd\"\nbeam = 15")), "Is the output right?"));
    EXPECT_TRUE(says(remarks(lamp("[1, 1, 1]", "output = \"900000 lm\"")), "900,000 lm"));
}

TEST(CarefulRemarks, Marks) {
    EXPECT_TRUE(says(remarks(mark("A", "[9, 1]")), "Mark 'A' lies outside the room."));
    EXPECT_TRUE(says(remarks(mark("A", "[1, 1]") + mark("B", "[1.2, 1]")), "Marks 'A' and 'B' are 0.2 m apart."));
    EXPECT_FALSE(says(remarks(mark("A", "[1, 1]") + mark("B", "[2, 1]")), "apart"));
    EXPECT_TRUE(
        says(remarks(mark("A", "[1, 1, 1.2]", "person = { height = 1.8 }")), "3 m high under a ceiling of 2.7 m"));
    EXPECT_FALSE(says(remarks(mark("A", "[1, 1]", "person = { height = 1.8 }")), "ceiling"));
}

TEST(CarefulRemarks, ACrowdIsNotListedInFull) {
    std::string crowd;
    for (int i = 0; i < 190; ++i) crowd += mark("m" + std::to_string(i), "[1, 1]");
    EXPECT_LT(remarks(crowd).size(), 50U);
}

// A meter typed at a surface's own height is put down on it; one deeper in something reads nothing, and is told.
TEST(CarefulRemarks, MetersInsideThings) {
    const auto meter = [](const std::string& at) {
        return "\n[[meter]]\nname = \"probe\"\nat = " + at + "\nfacing = \"up\"\n";
    };
    EXPECT_TRUE(says(remarks(meter("[4.5, 3.5, 1]")), "Meter 'probe' is inside 'cupboard'"));
    EXPECT_FALSE(says(remarks(meter("[2, 2, 0]")), "Meter 'probe'"));
    EXPECT_TRUE(says(remarks(meter("[1, -0.1, 1]")), "Meter 'probe' is inside a wall"));
}

TEST(CarefulRemarks, PanelsAndCameras) {
    EXPECT_FALSE(says(remarks(flag("[2, 2, 1.2]", "[2, 0, 1.2]")), "crosses"));
    EXPECT_TRUE(says(remarks(flag("[2, 2, 2.4]", "[2, 0, 2.4]")), "The flag 'black' touches or crosses a wall"));
    EXPECT_TRUE(says(remarks(flag("[2, -3, 1.2]", "[2, 0, 1.2]")), "stands outside; wind"));
    const std::string camera = "[[camera]]\nname = \"wide\"\nlook_at = [2, 2, 1]\nat = ";
    EXPECT_TRUE(says(remarks(camera + "[4.5, 3.5, 1]\n"), "Camera 'wide' is inside 'cupboard'."));
    EXPECT_TRUE(says(remarks(camera + "[2, 8, 1]\n"), "Camera 'wide' stands outside the room."));
}

TEST(CarefulRemarks, CautionsComeLast) {
    const auto all = remarks(lamp("[1, 1, 2.4]") + flag("[1.1, 1, 2.4]", "[1.1, 0, 2.4]"));
    EXPECT_EQ(all.back(), planning_caution);
    EXPECT_TRUE(says(all, "within 0.3 m of the flag 'black'"));
    EXPECT_TRUE(says(all, "Overhead or high: 'key' and 'black'."));
    EXPECT_TRUE(says(all, "share a circuit"));
    EXPECT_FALSE(says(remarks("", "sky = \"clear\""), planning_caution));
}

}  // namespace
}  // namespace rushlight
