// A polarizing filter before the lens, through whole paths: lamp, varnished table, lens.
#include "paths/small_scenes.h"

#include "paths/field.h"

namespace rushlight {
namespace {

/// Mean light along one ray that looks at a black varnished table at `degrees` from its normal and finds a lamp in it.
double mirrored(double degrees, const Vec3* passes) {
    const double a = degrees * pi / 180;
    const Vec3 away(static_cast<float>(std::sin(a)), 0, static_cast<float>(std::cos(a)));
    Scene s;
    Finish varnish = small::matt(0);
    varnish.gloss = 0.04F;
    varnish.roughness = 0.01F;
    Rectangle table;
    table.half_width = table.half_height = 0.5F;
    Mesh mesh = rectangle_mesh(table, varnish);
    small::add(s, mesh);
    const Vec3 lamp_at = away * 1.5F;
    add_lamp(s, small::lamp(LampShape::box, lamp_at, -away, 1.2, 1.2, 1000));
    small::finish(s);
    const Ray ray{Vec3(-away.x, 0, away.z) * 2, Vec3(away.x, 0, -away.z)};
    Effort e = small::effort(0);
    e.seconds = 0;
    double sum = 0;
    constexpr int walks = 4000;
    const LightPaths none;
    for (int i = 0; i < walks; ++i) {
        std::vector<Spectrum> layers(1);
        Sampler sampler(11, static_cast<std::uint32_t>(i));
        const Analyser filter(ray.direction, passes != nullptr ? *passes : Vec3(0, 0, 1));
        collect_along(s, ray, none, Sharing::meters_alone(1), sampler, layers, nullptr,
                      passes != nullptr ? &filter : nullptr);
        sum += static_cast<double>(photometric(layers[0])) / walks;
    }
    return sum;
}

// With the filter across the table's glare only p is left: Rp over the mean of Rs and Rp by Fresnel's equations for
// n = 1.5 (optics texts): at 45 degrees .00847 / .05024, at Brewster's angle nothing. The coat's own roughness spreads
// the angles a little.
TEST(PolarizerPaths, GlareOffAVarnishedTable) {
    const Vec3 upright(0, 0, 1), level(0, 1, 0);
    const double at_45 = mirrored(45, nullptr);
    EXPECT_GT(at_45, 0);
    EXPECT_NEAR(mirrored(45, &upright) / at_45, .00847 / .05024, 0.01);
    EXPECT_NEAR(mirrored(45, &level) / at_45, .09201 / .05024, 0.01);
    const double at_brewster = mirrored(56.3099, nullptr);
    EXPECT_LT(mirrored(56.3099, &upright), 0.01 * at_brewster);
    EXPECT_NEAR(mirrored(30, &upright) / mirrored(30, nullptr), .02525 / .04152, 0.01);
}

}  // namespace
}  // namespace rushlight
