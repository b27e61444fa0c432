// A polarizing filter before the lens, through whole paths: lamp, varnished table, lens.
#include "outside_by_hand.h"
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

/// The sky's luminance along `sight` through a filter that passes `passes`, over that without; the sun stands along x.
double sky_through(const Vec3& sight, const Vec3* passes, double most_polarised, bool window = false) {
    Scene s;
    // Nothing for a window to mirror.
    Daylight day = by_hand::outside(1000, window && sight.z > 0 ? 0 : 200, 0, {1, 0, 0});
    day.most_polarised = most_polarised;
    if (window) {
        Finish glass;
        glass.pane = true;
        small::add(s, rectangle_mesh(facing_rectangle(sight * 2, -sight, 0, 2, 2), glass));
    } else {
        Rectangle ground;
        ground.centre = {0, 0, -5};
        small::add(s, rectangle_mesh(ground, small::matt(0.2)));
    }
    s.lights.add("sky", SkyLight(day, std::make_shared<Openings>()));
    small::finish(s);
    const Ray ray{Vec3(0, 0, 0), sight};
    double sum = 0;
    constexpr int walks = 400;
    const LightPaths none;
    for (int i = 0; i < walks; ++i) {
        std::vector<Spectrum> layers(1);
        Sampler sampler(5, static_cast<std::uint32_t>(i));
        const Analyser filter(ray.direction, passes != nullptr ? *passes : Vec3(0, 0, 1));
        collect_along(s, ray, none, Sharing::meters_alone(1), sampler, layers, nullptr,
                      passes != nullptr ? &filter : nullptr);
        sum += static_cast<double>(photometric(layers[0])) / walks;
    }
    return sum / 1000;
}

// Light that air has scattered once swings square to the plane of sun and sight, its degree sin^2 / (1 + cos^2) of the
// angle between them times what haze leaves (Rayleigh 1871; Coulson, Polarization and Intensity of Light in the
// Atmosphere, from memory): 1 at 90 degrees, 1/3 at 45, nothing towards the sun. An ideal filter passes 1 +- p of it
// against a plain one of its loss, and 1 half way between (Malus).
TEST(PolarizerPaths, BlueSkyDarkensSquareToTheSun) {
    constexpr double p = 0.77;
    const auto at = [](double degrees) {
        const double a = degrees * pi / 180;
        return Vec3(static_cast<float>(std::cos(a)), static_cast<float>(std::sin(a) * 0.6),
                    static_cast<float>(std::sin(a) * 0.8));
    };
    for (const double degrees : {90.0, 45.0, 120.0, 20.0}) {
        const Vec3 sight = at(degrees);
        const Vec3 along = Vec3(1, 0, 0).cross(sight).normalized(), across = along.cross(sight);
        const double c = std::cos(degrees * pi / 180), degree = p * (1 - c * c) / (1 + c * c);
        EXPECT_NEAR(sky_through(sight, nullptr, p), 1, 1e-4);
        EXPECT_NEAR(sky_through(sight, &along, p), 1 + degree, 1e-3) << degrees;
        EXPECT_NEAR(sky_through(sight, &across, p), 1 - degree, 1e-3) << degrees;
        const Vec3 between = (along + across).normalized();
        EXPECT_NEAR(sky_through(sight, &between, p), 1, 1e-3) << degrees;
    }
    // Under cloud nothing changes; the ground has no swing.
    const Vec3 up = at(90), across = Vec3(1, 0, 0).cross(up).normalized().cross(up);
    EXPECT_NEAR(sky_through(up, &across, 0), 1, 1e-4);
    const Vec3 down(0, 0.6F, -0.8F), level(1, 0, 0);
    EXPECT_NEAR(sky_through(down, &level, p, true), sky_through(down, nullptr, p, true), 2e-3);
    // A window seen straight on does not change it.
    EXPECT_NEAR(sky_through(up, &across, p, true) / sky_through(up, nullptr, p, true), 1 - p, 2e-3);
}

}  // namespace
}  // namespace rushlight
