// Light on a photograph that is hung up: each cell sends on what Lambert's law says of its share, L = rho E / pi, with
// E = I / d^2 at normal incidence.
#include "paths/measure.h"
#include "scene/scene.h"
#include "setup/read/setup_file.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>

namespace rushlight {
namespace {

TEST(HungPictureLight, IsPaintInThatLight) {
    const auto folder = std::filesystem::path(testing::TempDir());
    const std::string name = "rushlight-two-greys.ppm";
    // Left black but for the darkest code, right white; 0.3 as a mean leaves 0.6 to the white.
    std::ofstream(folder / name, std::ios::binary) << "P6\n2 1\n255\n" << std::string("\0\0\0\xff\xff\xff", 6);
    const auto setup = SetupFile::from_text(
                           "[place]\nroom = { width = 6, depth = 6, height = 3 }\n"
                           "[place.surfaces]\nwalls = 0.01\nfloor = 0.01\nceiling = 0.01\n[day]\ndark = true\n"
                           "[[place.furniture]]\nname = \"view\"\npicture = \"" +
                               name +
                               "\"\nat = [3, 1]\nfrom_floor = 1\nwidth = 2\nreflectance = 0.3\n"
                               "[[lamp]]\nname = \"head\"\nshape = \"hard\"\nat = [3, 5, 1.5]\naim = [3, 1, 1.5]\n"
                               "beam = 60\nfield = 100\noutput = \"16000 cd\"\nsize = 0.02\n",
                           (folder / "f.toml").string())
                           .setup();
    const Scene scene = build_scene(setup);
    std::vector<MeterPoint> spots;
    for (const float side : {-0.5F, 0.5F}) {
        const Vec3 at(3, 3, 1.5F), on(3 + side, 1, 1.5F);
        MeterPoint spot;
        spot.kind = MeterKind::spot;
        spot.at = at;
        spot.facing = (on - at).normalized();
        spot.spot_radius = 0.02F;
        spots.push_back(spot);
    }
    Effort effort;
    effort.relative_error = 0.004;
    const MeterResults r = measure(scene, spots, effort);
    // Half a metre off the axis of 4 m: cos^4, and a little less of the beam.
    const double e = 16000.0 / 16 * std::pow(4 / std::hypot(4, 0.5), 4);
    // Seen with your back to the far wall, right is towards x = 0.
    EXPECT_NEAR(r.all(0).value, 0.6 * e / 3.14159265, 4 * r.all(0).error + 0.03 * r.all(0).value);
    EXPECT_LT(r.all(1).value, 0.03 * r.all(0).value);
    std::filesystem::remove(folder / name);
}

}  // namespace
}  // namespace rushlight
