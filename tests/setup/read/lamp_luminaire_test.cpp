// A lamp of the set-up file that takes its light from a photometric file.
#include "setup/advice/check.h"
#include "setup/read/luminaires.h"
#include "setup/read/typed_file.h"
#include "setup/text/where.h"

#include <gtest/gtest.h>

namespace rushlight {
namespace {

/// As if the set-up file lay in tests/setup.
const std::string path = std::string(RUSHLIGHT_SOURCE) + "/tests/setup/f.toml";

SetupFile file_with(const std::string& lamp) {
    return SetupFile::from_text(small_room + "[day]\ndark = true\n[[lamp]]\nname = \"head\"\nat = [1, 1, 2]\n" + lamp,
                                path);
}
Lamp lamp_with(const std::string& lamp) {
    return file_with(lamp).setup().rig.lamps.at(0);
}
std::string said_of(const std::string& lamp) {
    try {
        file_with(lamp);
    } catch (const InputError& e) {
        std::string said = e.what();
        const std::string folder = path.substr(0, path.size() - 6);
        if (said.rfind(folder, 0) == 0) said.erase(0, folder.size());
        return said;
    }
    return "";
}

const std::string plain_file = "luminaire = \"luminaires/plain.ies\"\n";

TEST(LampLuminaire, TakesLightAndOpeningFromTheFile) {
    const Lamp l = lamp_with(plain_file);
    ASSERT_TRUE(l.luminaire);
    EXPECT_EQ(l.shape, LampShape::box);
    EXPECT_DOUBLE_EQ(l.width, 0.3);  // the length lies level
    EXPECT_DOUBLE_EQ(l.height, 0.1);
    EXPECT_EQ(l.depth, 0);
    expect_near(l.aim, {0, 0, -1});
    EXPECT_EQ(l.output, Lamp::Output::lumen);
    EXPECT_NEAR(photometric(l.intensity_or_flux) / l.luminaire->lumens, 1.0, 1e-5);
    EXPECT_EQ(
        described(l),
        "LM-63-2002, type C: 3101 lm, peak 1000 cd, beam 119 degrees, field 168 degrees, opening 0.3 by 0.1 m, 60 W");
}

TEST(LampLuminaire, OutputRescales) {
    const double peak_per_lumen = 1000 / lamp_with(plain_file).luminaire->lumens;
    EXPECT_NEAR(photometric(lamp_with(plain_file + "output = \"5000 lm\"\n").intensity_or_flux), 5000, 0.1);
    EXPECT_NEAR(photometric(lamp_with(plain_file + "output = \"2000 cd\"\n").intensity_or_flux), 2000 / peak_per_lumen,
                0.1);
    // At 30 m the opening is a point: E d^2 = I.
    EXPECT_NEAR(photometric(lamp_with(plain_file + "output = \"2 lx at 30 m\"\n").intensity_or_flux),
                1800 / peak_per_lumen, 6);  // the table is a little lower beside its peak
    const Lamp gelled = lamp_with(plain_file + "gel = \"nd 0.3\"\nlevel = \"50%\"\nroll = 90\n");
    EXPECT_NEAR(photometric(gelled.intensity_or_flux * gelled.gel) / gelled.luminaire->lumens, 0.5, 1e-4);
    EXPECT_DOUBLE_EQ(gelled.level, 0.5);
    EXPECT_DOUBLE_EQ(gelled.roll, 90);
}

TEST(LampLuminaire, DrawsWhatItsFileSaysUnlessToldOtherwise) {
    EXPECT_DOUBLE_EQ(lamp_with(plain_file).watts, 60);
    EXPECT_DOUBLE_EQ(lamp_with(plain_file + "watts = 75\n").watts, 75);
}

TEST(LampLuminaire, ShapeAndSizeMayOverrule) {
    const Lamp round = lamp_with(plain_file + "shape = \"hard\"\nsize = 0.2\n");
    EXPECT_EQ(round.shape, LampShape::hard);
    EXPECT_DOUBLE_EQ(round.height, 0.2);
    const Lamp box = lamp_with(plain_file + "size = [0.5, \"1ft\"]\n");
    EXPECT_EQ(box.shape, LampShape::box);
    EXPECT_DOUBLE_EQ(box.height, 0.3048);
    EXPECT_EQ(said_of(plain_file + "shape = \"tube\"\n"),
              "f.toml:13:9: [[lamp]] 'head': shape is 'tube' beside a luminaire file; expected hard (a round opening), "
              "box (a rectangle) or none");
}

TEST(LampLuminaire, TiltFollowsTheAim) {
    const std::string file = "luminaire = \"luminaires/tilt-beside.ies\"\n";  // 1 at 0, .8 at 60 degrees
    const double down = photometric(lamp_with(file).intensity_or_flux);
    const Lamp tilted = lamp_with(file + "aim = [1, 1.57735, 1]\n");  // 30 degrees off straight down
    EXPECT_NEAR(photometric(tilted.intensity_or_flux) / down, 0.9, 1e-4);
    // A reading was taken as the lamp stands.
    EXPECT_NEAR(photometric(lamp_with(file + "aim = [1, 1.57735, 1]\noutput = \"900 lm\"\n").intensity_or_flux), 900,
                0.1);
}

TEST(LampLuminaire, IsAnsweredInOneLine) {
    EXPECT_EQ(said_of("luminaire = \"luminaires/lost.ies\"\n"),
              "f.toml:12:13: [[lamp]] 'head': luminaire is 'luminaires/lost.ies'; there is no such file beside f.toml");
    EXPECT_EQ(said_of("luminaire = \"luminaires/one-number-too-many.ies\"\n"),
              "luminaires/one-number-too-many.ies:8:20: found '0', expected an end: 5 vertical and 1 horizontal angles "
              "make 11 "
              "numbers with their candela, and 12 stand here");
    EXPECT_EQ(said_of("aim = [1, 1, 0]\n"), "f.toml:9:1: [[lamp]] 'head' needs 'shape' or 'luminaire'");
    EXPECT_EQ(said_of("luminaire = 3\n"),
              "f.toml:12:13: [[lamp]] 'head': luminaire is the number 3; expected text in quotes");
    EXPECT_EQ(said_of("luminaire = \"luminaires/up.ies\"\noutput = \"100 cd\"\n"),
              "f.toml:13:10: [[lamp]] 'head': output comes to 0 lm; expected between 0.001 and 1e+09");
}

TEST(LampLuminaire, RemarksPointAtTheSetUpFile) {
    const SetupFile f = file_with("luminaire = \"luminaires/multiplier-zero.ies\"\nbeam = 20\n");
    ASSERT_EQ(f.remarks().size(), 2U);
    EXPECT_NE(f.remarks()[0].find("f.toml:12:13: multiplier-zero.ies: line 4: the candela multiplier is 0; 1 is taken"),
              std::string::npos)
        << f.remarks()[0];
    EXPECT_NE(f.remarks()[1].find("head: beam means nothing for a lamp with a luminaire file"), std::string::npos)
        << f.remarks()[1];
    const SetupFile g = file_with("luminaire = \"luminaires/plain.ldt\"\n");
    ASSERT_EQ(g.remarks().size(), 1U);
    EXPECT_NE(g.remarks()[0].find("calls its light '3000'; kelvin is not given, 5600 K is assumed"), std::string::npos)
        << g.remarks()[0];
    EXPECT_TRUE(file_with("luminaire = \"luminaires/plain.ldt\"\nkelvin = 3000\n").remarks().empty());
}

// One file, however many lamps and set-ups.
TEST(LampLuminaire, IsReadOnce) {
    const SetupFile f = SetupFile::from_text(small_room + "[[lamp]]\nname = \"a\"\nat = [1, 1, 2]\n" + plain_file +
                                                 "[[lamp]]\nname = \"b\"\nat = [2, 1, 2]\n" + plain_file,
                                             path);
    const auto lamps = f.setup().rig.lamps;
    EXPECT_EQ(lamps[0].luminaire, lamps[1].luminaire);
    EXPECT_EQ(lamps[0].luminaire, f.setup().rig.lamps[0].luminaire);
}

}  // namespace
}  // namespace rushlight
