#include "results/light/calibration.h"

#include "rooms_as_text.h"
#include "setup/read/setup_file.h"
#include "setup/text/where.h"

#include <gtest/gtest.h>

#include <cmath>

namespace rushlight {
namespace {

/// A black room: a lamp's light is its inverse square, and the model's answer is known.
Setup black_room(const std::string& measured, const std::string& option = "as found") {
    return SetupFile::from_text(
               testing_rooms::black_room("8", "8", "4") +
                   "[[mark]]\nname = \"A\"\nat = [4, 6]\nfacing = 270\n"
                   "[[lamp]]\nname = \"key\"\nshape = \"hard\"\nat = [4, 1, 2]\naim = [4, 7, 2]\noutput = \"9000 cd\"\n"
                   "level = \"-1 stop\"\n"
                   "[[lamp]]\nname = \"other\"\nshape = \"ball\"\nat = [6, 3.5, 2]\nsize = 0.1\noutput = \"5000 "
                   "lm\"\n" +
                   measured,
               "f.toml")
        .setup("as found", option);
}

const std::string at_three = "[[measured]]\nname = \"at 3 m\"\nsource = \"key\"\nat = [4, 4, 2]\nfacing = [4, 1, 2]\n";
const std::string at_five = "[[measured]]\nname = \"at 5 m\"\nsource = \"key\"\nat = [4, 6, 2]\nfacing = [4, 1, 2]\n";

// E = I / d^2 at full: 1000 lx at 3 m, 360 lx at 5 m; the other lamp and the person are out of the way.
TEST(Calibration, ScalesALampToAReading) {
    const auto scales = calibrate(black_room(at_three + "lux = 1414.2\n"), {});
    ASSERT_EQ(scales.size(), 1U);
    EXPECT_EQ(scales[0].source, "key");
    EXPECT_NEAR(scales[0].readings[0].model.value, 1000, 2);
    EXPECT_NEAR(scales[0].stops(), 0.5, 0.005);
    EXPECT_EQ(scales[0].disagreement(), 0);
    const rushlight::Setup before = black_room(at_three + "lux = 1414.2\n"), after = scaled(before, scales);
    EXPECT_NEAR(photometric(after.rig.lamps[0].intensity_or_flux) / photometric(before.rig.lamps[0].intensity_or_flux),
                std::sqrt(2.0), 0.005);
    EXPECT_EQ(after.rig.lamps[1].intensity_or_flux, before.rig.lamps[1].intensity_or_flux);
}

// The meter was read before anybody gelled the lamp or moved it: an option that does so has the same factor.
TEST(Calibration, IsThatOfTheScoutInEveryOption) {
    const std::string text = at_three +
                             "lux = 1414.2\n[[option]]\nname = \"tried\"\n"
                             "change.lamp.key = { gel = \"half blue\", at = [4, 2, 2], level = 1 }\n";
    const auto found = calibrate(black_room(text), {}), tried = calibrate(black_room(text, "tried"), {});
    ASSERT_EQ(tried.size(), 1U);
    EXPECT_NEAR(found[0].stops(), 0.5, 0.005);
    EXPECT_EQ(tried[0].factor, found[0].factor);
}

TEST(Calibration, SaysHowWellASecondReadingAgrees) {
    // Half a stop over at 3 m, as told at 5 m: scaled by a quarter, each a quarter off.
    const auto scales = calibrate(black_room(at_three + "lux = 1414.2\n" + at_five + "lux = 360\n"), {});
    ASSERT_EQ(scales.size(), 1U);
    EXPECT_NEAR(scales[0].stops(), 0.25, 0.005);
    EXPECT_NEAR(scales[0].disagreement(), 0.25, 0.005);
    EXPECT_NE(calibration_lines(scales)[0].find("they agree within 0.25 stops"), std::string::npos)
        << calibration_lines(scales)[0];
    const auto apart = calibrate(black_room(at_three + "lux = 4000\n" + at_five + "lux = 360\n"), {});
    EXPECT_NE(calibration_lines(apart)[0].find("one is 1.00 stops off"), std::string::npos)
        << calibration_lines(apart)[0];
}

// An even sky of L through a bare hole seen from straight under it, walls black: E = L times the hole's configuration
// factor times pi, whatever it is; twice the light is one stop.
TEST(Calibration, ScalesDaylightWhereverItFalls) {
    const std::string room =
        "[place]\nroom = { width = 4, depth = 4, height = 3 }\nwall_thickness = 0\n"
        "surfaces = { walls = 0.3, floor = 0.2, ceiling = 0.6 }\n"
        "[[place.opening]]\nname = \"hole\"\nwall = \"near\"\nfrom = 1\nto = 3\nsill = 1\nhead = 2.4\nglass = "
        "\"none\"\n"
        "[day]\nsky_luminance = 2000\n[[mark]]\nname = \"A\"\nat = [2, 2]\nfacing = 270\n";
    const auto with = [&](const std::string& lux) {
        return SetupFile::from_text(room + "[[measured]]\nname = \"window side\"\nat = \"A\"\nlux = " + lux + "\n",
                                    "f.toml")
            .setup();
    };
    const auto first = calibrate(with("1000"), {});
    ASSERT_EQ(first.size(), 1U);
    const double model = first[0].readings[0].model.value;
    const auto twice = calibrate(with(std::to_string(2 * model)), {});
    EXPECT_NEAR(twice[0].stops(), 1, 1e-3);
    // The scaled set-up reads what the meter said.
    rushlight::Setup after = scaled(with(std::to_string(2 * model)), twice);
    after.scouted = after.day;
    EXPECT_NEAR(calibrate(after, {})[0].stops(), 0, 0.03);
}

TEST(Calibration, RefusesALampThatIsNotThere) {
    try {
        black_room("[[measured]]\nname = \"x\"\nsource = \"kee\"\nat = [4, 4, 2]\nlux = 10\n");
        FAIL();
    } catch (const InputError& e) {
        EXPECT_STREQ(e.what(), "f.toml:25:10: [[measured]] 'x': no lamp 'kee'; did you mean 'key'?");
    }
}

}  // namespace
}  // namespace rushlight
