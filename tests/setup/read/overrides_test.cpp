#include "setup/plain/face.h"
#include "setup/read/typed_file.h"
#include "setup/text/where.h"

namespace rushlight {
namespace {

const std::string two_setups = small_room + R"([day]
dark = true
[[mark]]
name = "A"
at = [2, 2]
facing = 0
person = { height = 1.8, pose = "seated" }
[[lamp]]
name = "key"
shape = "box"
at = [1, 1, 2]
aim = "A"
size = 0.9
output = "9000 lm"
level = 0.5
[[flag]]
name = "far black"
at = [2, 3, 1.2]
facing = "A"
[[camera]]
name = "wide"
at = [4, 3, 1.5]
look_at = "A"
[[setup]]
name = "1"
[[setup]]
name = "2"
remove = ["far black"]
[setup.change.lamp.key]
at = [1, "6ft 6in", 2]
level = "25%"
[setup.change.mark.A]
person = { pose = "standing" }
[[setup.add.board]]
name = "white"
at = [2, 3, 1.2]
facing = "A"
[setup.day]
dark = false
sky_luminance = 2500
[[option]]
name = "dimmer"
change.lamp.key = { level = "-4 stops" }
[[option]]
name = "no board"
setups = ["2"]
remove = ["white"]
day = { sky_luminance = 1000 }
)";

TEST(Overrides, TheSetupChangesTheBaseAndTheOptionChangesBoth) {
    const SetupFile f = SetupFile::from_text(two_setups, "f.toml");
    EXPECT_EQ(f.setup_names(), (std::vector<std::string>{"1", "2"}));
    EXPECT_EQ(f.option_names("1"), (std::vector<std::string>{"as found", "dimmer"}));
    EXPECT_EQ(f.option_names("2"), (std::vector<std::string>{"as found", "dimmer", "no board"}));

    const auto one = f.setup("1", "as found");
    EXPECT_DOUBLE_EQ(one.rig.lamps[0].level, 0.5);
    EXPECT_EQ(one.rig.panels.at(0).name, "far black");
    EXPECT_TRUE(one.day.dark);

    const auto two = f.setup("2", "as found");
    EXPECT_DOUBLE_EQ(two.rig.lamps[0].level, 0.25);
    EXPECT_NEAR(two.rig.lamps[0].at.y, 78 * 0.0254, 1e-6);
    EXPECT_DOUBLE_EQ(two.rig.lamps[0].width, 0.9);
    EXPECT_EQ(two.rig.marks[0].person.pose, Pose::standing);
    EXPECT_DOUBLE_EQ(two.rig.marks[0].person.height, 1.8);
    ASSERT_EQ(two.rig.panels.size(), 1U);
    EXPECT_EQ(two.rig.panels[0].name, "white");
    EXPECT_FALSE(two.day.dark);
    EXPECT_DOUBLE_EQ(two.day.uniform_sky_luminance, 2500);
    // The lamp follows the face that it is aimed at.
    expect_near(two.rig.lamps[0].aim, (face_of(two.rig.marks[0]) - two.rig.lamps[0].at).normalized());

    const auto dimmer = f.setup("2", "dimmer");
    EXPECT_DOUBLE_EQ(dimmer.rig.lamps[0].level, 1.0 / 16);
    EXPECT_NEAR(dimmer.rig.lamps[0].at.y, 78 * 0.0254, 1e-6);
    EXPECT_TRUE(f.setup("2", "no board").rig.panels.empty());
    EXPECT_DOUBLE_EQ(f.setup("2", "no board").day.uniform_sky_luminance, 1000);
}

TEST(Overrides, UnknownNamesAreAnsweredWithTheNearest) {
    const SetupFile f = SetupFile::from_text(two_setups, "f.toml");
    const auto said = [&](const char* setup, const char* option) -> std::string {
        try {
            f.setup(setup, option);
        } catch (const InputError& e) {
            return e.what();
        }
        return "";
    };
    EXPECT_EQ(said("3", "as found"), "f.toml: no set-up '3'; expected one of: 1, 2");
    EXPECT_EQ(said("1", "dimer"), "f.toml: no option 'dimer' for set-up '1'; did you mean 'dimmer'?");
    EXPECT_EQ(said("1", "no board"), "f.toml: no option 'no board' for set-up '1'; expected one of: as found, dimmer");
}

TEST(Overrides, ErrorsPointAtTheValueInTheOverride) {
    std::string text = two_setups;
    const std::string good = "level = \"25%\"";
    const std::size_t at = text.find(good);
    text.replace(at, good.size(), "level = \"125%\"");
    const auto line = 1 + std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(at), '\n');
    try {
        SetupFile::from_text(text, "f.toml");
        FAIL();
    } catch (const InputError& e) {
        EXPECT_EQ(e.what(), "f.toml:" + std::to_string(line) +
                                ":9: [[lamp]] 'key': level is the text '125%'; expected no more than full, and not "
                                "below zero (in set-up '2')");
    }
}

TEST(Overrides, OneOptionMayBeDoneDifferentlyFromEachSide) {
    const SetupFile f = SetupFile::read(std::string(RUSHLIGHT_SOURCE) + "/scenes/workshop.toml");
    EXPECT_EQ(f.option_names("1 wide"), (std::vector<std::string>{"as found", "sun out", "made sun"}));
    EXPECT_EQ(f.setup("2 over shoulder to A", "black on the room side").rig.panels.at(0).name, "black cloth for A");
    EXPECT_EQ(f.setup("3 over shoulder to B", "black on the room side").rig.panels.at(0).name, "black cloth for B");
}

}  // namespace
}  // namespace rushlight
