#include "scene/surface/polarizer.h"

#include "scene/rays/camera_view.h"
#include "scene/surface/surface.h"

#include <gtest/gtest.h>

#include <cmath>

namespace rushlight {
namespace {

float cosine(double degrees) {
    return static_cast<float>(std::cos(degrees * 3.14159265358979 / 180));
}

// Fresnel's equations for n = 1.5 (optics texts): Brewster's angle is atan(1.5) = 56.3099 degrees.
TEST(Polarizer, FresnelEachWay) {
    const struct {
        double angle, s, p;
    } table[] = {{0, .04, .04},          {30, .05780, .02525}, {45, .09201, .00847},
                 {56.3099, .14793, 0.0}, {60, .17657, .00180}, {75, .39936, .10677}};
    for (const auto& row : table) {
        const Fresnel f = fresnel_of_each(cosine(row.angle), 1.5F);
        EXPECT_NEAR(f.s, row.s, 1e-5) << row.angle;
        EXPECT_NEAR(f.p, row.p, 1e-5) << row.angle;
    }
    EXPECT_NEAR(index_of_coat(0.04F), 1.5F, 1e-6);
}

// What a filter leaves of the window in a varnished table, against the body colour: 2.5 of 4.2 %, .85 of 5.0, 0 of 7.4,
// 10.7 of 25 % at 30, 45, 56.3 and 75 degrees (the table above: with the filter across, only p is left).
TEST(Polarizer, GlareOffATable) {
    const Vec3 up(0, 0, 1), across(0, 1, 0);
    for (const double angle : {30.0, 45.0, 56.3099, 75.0}) {
        const double a = angle * 3.14159265358979 / 180;
        const Vec3 sight(static_cast<float>(std::sin(a)), 0, static_cast<float>(-std::cos(a)));
        const Fresnel f = fresnel_of_each(cosine(angle), 1.5F);
        const float mean = (f.s + f.p) / 2;
        const Analyser upright(sight, up), level(sight, across);
        const Vec3 along = up.cross(-sight);  // s swings level
        EXPECT_NEAR(mean * upright.of(f, along), f.p, 1e-5) << angle;
        EXPECT_NEAR(mean * level.of(f, along), f.s, 1e-5) << angle;
        // Half way between the two, half of each.
        EXPECT_NEAR(Analyser(sight, (across + sight.cross(across)).normalized()).of(f, along), 1, 1e-5);
    }
}

// Through panes one behind the other along the filter's own axis each way of swinging has its own product.
TEST(Polarizer, PanesOneBehindTheOther) {
    const Vec3 sight = Vec3(1, 0, -0.7F).normalized(), up(0, 0, 1);
    const Vec3 along = up.cross(sight);
    const Fresnel t = pane_of_each(cosine(60), 1.5F, 1).transmitted;
    EXPECT_NEAR((t.s + t.p) / 2, 0.84813, 1e-4);  // all inner bounces, each way by itself: optics texts
    const float mean = (t.s + t.p) / 2;
    for (const auto& [passes, single] : {std::pair{up, t.p}, std::pair{along, t.s}}) {
        Analyser a(sight, passes);
        const float first = a.look_through(t, along) * mean, second = a.look_through(t, along) * mean;
        EXPECT_NEAR(first * second, single * single, 1e-5);
    }
    // At 45 degrees the first pane favours p, so the second one passes more than its mean.
    Analyser between(sight, (along.normalized() + sight.cross(along).normalized()).normalized());
    EXPECT_NEAR(between.look_through(t, along), 1, 1e-5);
    EXPECT_NEAR(between.look_through(t, along) * mean * mean, (t.s * t.s + t.p * t.p) / 2, 1e-5);
}

// A coated surface: all of its gloss goes at Brewster's angle, the body stays, a little more of it even.
TEST(Polarizer, CoatedSurface) {
    Finish varnish;
    varnish.reflectance = Spectrum{0.25F};
    varnish.gloss = 0.04F;
    varnish.roughness = 0.1F;
    const Surface s(varnish);
    const double a = std::atan(1.5);
    const Vec3 up(0, 0, 1);
    const Vec3 from(static_cast<float>(-std::sin(a)), 0, static_cast<float>(std::cos(a))), to(-from.x, 0, from.z);
    const Analyser upright(-from, up), level(-from, Vec3(0, 1, 0));
    Finish bare = varnish;
    bare.gloss = 0;
    const float body = s.matt[0] * (s.scattered(up, from, Vec3(0, 0.5F, 0.5F).normalized())[0] / s.matt[0]);
    const float plain = s.scattered(up, from, to)[0];
    EXPECT_GT(plain, 3 * body);
    EXPECT_LT(s.seen(up, from, to, upright)[0], 1.2F * body);
    EXPECT_NEAR(s.seen(up, from, to, upright)[0] + s.seen(up, from, to, level)[0], 2 * plain, 1e-3F * plain);
    // A matt wall knows nothing of filters.
    EXPECT_EQ(Surface(bare).seen(up, from, to, upright)[0], Surface(bare).scattered(up, from, to)[0]);
}

// Rays of one pixel through the rim of the lens meet in the plane of focus; elsewhere they are as far apart as the thin
// lens's blur disc says, carried out to that plane.
TEST(CameraView, RaysThroughTheLens) {
    Camera c;
    c.at = {0, 0, 1};
    c.look_at = {1, 0, 1};
    c.lens = 75;
    c.focus = 2;
    c.exposure.t_stop = 2;
    const CameraView view(c, 960, 540);
    const ThinLens lens = c.thin_lens();
    const auto at = [&](float distance, float v) {
        const Ray r = view.ray(700, 200, 0.9999999F, v);
        return r.origin + r.direction * ((distance - r.origin.x) / r.direction.x);
    };
    EXPECT_LT((at(2, 0) - at(2, 0.5F)).length(), 1e-5F);
    for (const float d : {1.0F, 3.0F, 6.0F}) {
        const double disc =
            lens.blur(d) * static_cast<double>(d) / lens.image_distance();  // mm on the sensor to m there
        EXPECT_NEAR((at(d, 0) - at(d, 0.5F)).length(), disc, 1e-3 * disc) << d;
    }
    c.focus = 0;
    EXPECT_FALSE(CameraView(c, 960, 540).opens());
}

}  // namespace
}  // namespace rushlight
