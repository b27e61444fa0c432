// Clear sheets and lamps by luminance as a file says them.
#include "setup/plain/catalogues.h"
#include "setup/read/setup_file.h"
#include "setup/text/where.h"

#include <gtest/gtest.h>

#include <cmath>

namespace rushlight {
namespace {

Setup read(const std::string& more) {
    return SetupFile::from_text("[place]\nroom = { width = 5, depth = 4, height = 2.7 }\n[day]\ndark = true\n" + more,
                                "f.toml")
        .setup();
}
Finish sheet(const std::string& finish) {
    return read("[[board]]\nname = \"sheet\"\nat = [1, 1, 1]\nfacing = [2, 1, 1]\nsize = 1\nfinish = " + finish + "\n")
        .rig.panels.at(0)
        .finish;
}

// Straight on, a lossless sheet passes 2 n / (n^2 + 1), all inner bounces counted (optics texts).
TEST(Glass, LooseSheetsHaveIndexAndLoss) {
    EXPECT_FLOAT_EQ(sheet("\"glass\"").pane_index, 1.52F);
    const Finish coated = sheet("{ like = \"glass\", index = 1.2, passes = 0.95 }");
    EXPECT_TRUE(coated.pane);
    EXPECT_FLOAT_EQ(coated.pane_index, 1.2F);
    const double r = std::pow(0.2 / 2.2, 2), t = static_cast<double>(coated.pane_transmittance);
    EXPECT_NEAR((1 - r) * (1 - r) * t / (1 - r * r * t * t), 0.95, 1e-5);
    EXPECT_NEAR(lossless_pane_passes(1.52F), 2 * 1.52 / (1 + 1.52 * 1.52), 1e-6);
    EXPECT_NEAR(lossless_pane_passes(index_of_lossless_pane(0.95F)), 0.95, 1e-6);
    EXPECT_THROW(sheet("{ like = \"glass\", passes = 0.95 }"), InputError);
    EXPECT_THROW(sheet("{ like = \"steel\", index = 1.4 }"), InputError);
    EXPECT_THROW(sheet("{ like = \"glass\", index = 0.5 }"), InputError);
}

TEST(Glass, AMirrorMayBeSharp) {
    EXPECT_EQ(sheet("\"mirror\"").roughness, 0);
    EXPECT_EQ(sheet("{ metal = 0.9, roughness = 0 }").roughness, 0);
}

// A face of even luminance L gives pi L A (Lambert); a hard lamp's disc pi r^2 L on its aim.
TEST(LampOutput, ByLuminance) {
    const auto lamp = [](const std::string& more) {
        return read("[[lamp]]\nname = \"screen\"\nat = [1, 1, 1]\naim = [2, 1, 1]\noutput = \"300 cd/m2\"\n" + more)
            .rig.lamps.at(0);
    };
    const Lamp box = lamp("shape = \"box\"\nsize = [0.6, 0.4]\n");
    EXPECT_EQ(box.output, Lamp::Output::lumen);
    EXPECT_NEAR(photometric(box.intensity_or_flux), pi * 300 * 0.24, 0.05);
    const Lamp hard = lamp("shape = \"hard\"\nsize = 0.2\n");
    EXPECT_EQ(hard.output, Lamp::Output::candela);
    EXPECT_NEAR(photometric(hard.intensity_or_flux), pi * 0.01 * 300, 0.01);
}

}  // namespace
}  // namespace rushlight
