// Sharp mirrors: images of suns and lamps, patches that mirrors throw, and that every way of finding a path agrees with
// every other. Geometric optics: a flat mirror shows its mirror image, dimmed by its reflectance at that angle.
#include "outside_by_hand.h"
#include "paths/room_with_window.h"

#include "paths/field.h"

namespace rushlight {
namespace {

using namespace small;

constexpr float silver = 0.88F;

Finish mirror_finish(float share = silver) {
    Finish f = matt(0);
    f.metal = Spectrum{share};
    f.roughness = 0;
    return f;
}

/// Schlick's reflectance (1994), which bare metal here has.
double reflectance(double at_normal, double cosine) {
    return at_normal + (1 - at_normal) * std::pow(1 - cosine, 5);
}

struct Turned {
    Vec3 normal;    // of a mirror that sends what comes from the sun along `on`
    double cosine;  // with it
};
Turned turned(const Vec3& toward_sun, const Vec3& on) {
    const Vec3 normal = (toward_sun + on).normalized();
    return {normal, static_cast<double>(normal.dot(on))};
}

const Vec3 toward_sun = Vec3(0.5F, -0.6F, 0.62F).normalized();

Scene sun_by_mirror(double size, double away, const Finish& finish_of_it, double sky = 0) {
    Scene s;
    const Vec3 on(0, -1, 0);
    add(s,
        rectangle_mesh(facing_rectangle(-on * static_cast<float>(away), turned(toward_sun, on).normal, 0, size, size),
                       finish_of_it));
    const auto open = std::make_shared<Openings>();
    const Daylight d = by_hand::outside(sky, 0, 80'000, toward_sun);
    s.lights.add("sun", SunLight(d, open));
    if (sky > 0) s.lights.add("sky", SkyLight(d, open));
    s.lights.settle(s.mirrors);
    s.rays.commit();
    return s;
}
/// Faces the mirror, with its back to the sun.
const MeterPoint facing_the_mirror{MeterKind::flat, {0, 0, 0}, {0, 1, 0}};

// The sun by a mirror that shows all of its disc: E = rho E_normal. The sun is .53 degrees wide: .023 m at 2.5 m.
TEST(Mirrors, SendTheSunOnWhole) {
    const double cosine = turned(toward_sun, {0, -1, 0}).cosine;
    for (const auto& [size, away] : {std::pair{1.0, 2.0}, {1.0, 6.0}, {0.3, 2.0}, {0.3, 6.0}, {0.1, 2.5}}) {
        const Scene s = sun_by_mirror(size, away, mirror_finish());
        for (const double error : {0.05, 0.01})
            for (const std::uint64_t seed : {1, 2, 3, 4, 5, 6, 7, 8}) {
                const MeterResults r = measure(s, {facing_the_mirror}, effort(error, seed));
                expect_reading(r.all(0), 80'000 * reflectance(silver, cosine), error);
                EXPECT_LT(r.seconds, 5);
            }
    }
}

// A mirror so far off that it shows a part of the disc: share by quadrature over the disc's points, whose ways back
// from the meter are followed to the mirror's plane.
TEST(Mirrors, CutTheSunByTheirEdge) {
    const double size = 0.02, away = 4;
    const Vec3 on(0, -1, 0);
    const Rectangle m = facing_rectangle(-on * static_cast<float>(away), turned(toward_sun, on).normal, 0, size, size);
    const double radius = radians(Degree{sun_angular_diameter / 2});
    const Vec3 u = toward_sun.cross(Vec3(0, 0, 1)).normalized(), v = toward_sun.cross(u);
    double sum = 0;
    constexpr int steps = 600;
    for (int i = 0; i < steps; ++i)
        for (int j = 0; j < steps; ++j) {
            const double r = radius * std::sqrt((i + 0.5) / steps), a = 2 * pi * (j + 0.5) / steps;
            const Vec3 sun =
                (toward_sun + u * static_cast<float>(r * std::cos(a)) + v * static_cast<float>(r * std::sin(a)))
                    .normalized();
            const Vec3 look = m.normal * (2 * m.normal.dot(sun)) - sun;  // from the mirror to the eye, turned about
            const Vec3 toward = -look;                                   // from the meter
            const double t = static_cast<double>(m.normal.dot(m.centre)) / static_cast<double>(m.normal.dot(toward));
            const Vec3 d = toward * static_cast<float>(t) - m.centre;
            if (t > 0 && std::abs(d.dot(m.across)) < m.half_width && std::abs(d.dot(m.up)) < m.half_height)
                sum += static_cast<double>(toward.dot(facing_the_mirror.facing)) *
                       reflectance(silver, static_cast<double>(std::abs(m.normal.dot(toward))));
        }
    const double expected = 80'000 * sum / (steps * steps);
    ASSERT_LT(expected, 0.9 * 80'000 * silver);
    const Scene s = sun_by_mirror(size, away, mirror_finish());
    for (const std::uint64_t seed : {1, 2, 3, 4})
        expect_reading(measure(s, {facing_the_mirror}, effort(0.01, seed)).all(0), expected, 0.01);
}

// Sun and even sky: the mirror hides a piece of sky, sends on another, and the sun.
TEST(Mirrors, SunAndSky) {
    const double sky = 3000;
    const Scene s = sun_by_mirror(0.3, 2, mirror_finish(), sky);
    const double cosine = turned(toward_sun, {0, -1, 0}).cosine;
    // Half of the sky faces the meter; the mirror's own luminance is near that of what it shows or hides.
    const double sun = 80'000 * reflectance(silver, cosine), half = pi * sky / 2, small_change = 0.09 / 4 * sky;
    for (const double error : {0.05, 0.01})
        for (const std::uint64_t seed : {1, 2, 3, 4, 5, 6, 7, 8}) {
            const Measured e = measure(s, {facing_the_mirror}, effort(error, seed)).all(0);
            EXPECT_NEAR(e.value, sun + half, 4 * e.error + small_change) << seed;
            EXPECT_LE(e.relative_error(), error);
        }
}

// Hard silver, some blur: the same for all seeds, and less than a mirror sends on.
TEST(Mirrors, HardSilverIsFoundBySeedsAlike) {
    Finish board = matt(0.03);
    board.metal = Spectrum{0.82F};
    board.roughness = 0.1F;
    const Scene s = sun_by_mirror(0.3, 2, board);
    const Measured sure = measure(s, {facing_the_mirror}, effort(0.003, 99)).all(0);
    EXPECT_GT(sure.value, 8'000);
    EXPECT_LT(sure.value, 30'000);
    for (const std::uint64_t seed : {1, 2, 3, 4, 5, 6, 7, 8}) {
        const Measured e = measure(s, {facing_the_mirror}, effort(0.02, seed)).all(0);
        EXPECT_NEAR(e.value, sure.value, 4 * std::hypot(e.error, sure.error)) << seed;
    }
}

// Image source: E = rho I / (d1 + d2)^2, once and by two mirrors of a periscope, where no image is asked for.
TEST(Mirrors, ImageOfALamp) {
    Scene s;
    add(s, rectangle_mesh(facing_rectangle({0, 0, 0}, {0, 0, 1}, 0, 3, 3), mirror_finish()));
    Lamp l = lamp(LampShape::ball, {-1.0F, 0, 1.2F}, {0, 0, -1}, 0.1, 0.1, 800);
    l.output = Lamp::Output::candela;
    add_lamp(s, l);
    finish(s);
    const Vec3 image(-1.0F, 0, -1.2F), at(1.0F, 0, 0.9F);
    const MeterPoint meter{MeterKind::flat, at, (Vec3(0.1F, 0, 0) - at).normalized()};
    const Vec3 way = image - at;
    const double d2 = static_cast<double>(way.length2());
    const double toward_image = static_cast<double>(meter.facing.dot(way.normalized()));
    const double rho = reflectance(silver, std::abs(static_cast<double>(way.normalized().z)));
    const Vec3 straight = l.at - at;
    const double direct = 800 * std::max(0.0, static_cast<double>(meter.facing.dot(straight.normalized()))) /
                          static_cast<double>(straight.length2());
    expect_reading(measure(s, {meter}, effort(0.002)).all(0), direct + 800 * rho * toward_image / d2, 0.002);
}

// The configuration factor of a rectangle opposite (heat-transfer handbooks), at the length of the whole folded way.
TEST(Mirrors, TwoMirrorsInARow) {
    Scene s;
    const Vec3 slope = Vec3(1, 0, -1).normalized();
    add(s, rectangle_mesh(facing_rectangle({0, 0, 2}, slope, 0, 1.2, 1.2), mirror_finish()));
    add(s, rectangle_mesh(facing_rectangle({0, 0, 0}, -slope, 0, 1.2, 1.2), mirror_finish()));
    add_lamp(s, lamp(LampShape::box, {1.5F, 0, 2}, {-1, 0, 0}, 0.6, 0.6, pi * 20'000 * 0.36));
    add(s, rectangle_mesh(facing_rectangle({-0.9F, 0, 0.55F}, {1, 0, 0}, 0, 1.5, 0.6), matt(0)));  // no straight way
    finish(s);
    const MeterPoint meter{MeterKind::flat, {-1.5F, 0, 0}, {1, 0, 0}};
    const double rho = reflectance(silver, std::sqrt(0.5)), a = 0.3 / 5, r = std::sqrt(1 + a * a);
    expect_reading(measure(s, {meter}, effort(0.02)).all(0), 20'000 * rho * rho * 4 * a / r * std::atan(a / r), 0.02);
}

// A pixel sees a lamp in the mirror as bright as rho L, and nothing beside it.
TEST(Mirrors, ShowALampAsSharpAsTheLens) {
    Scene s;
    add(s, rectangle_mesh(facing_rectangle({0, 4, 0}, {0, -1, 0}, 0, 3, 3), mirror_finish()));
    add_lamp(s, lamp(LampShape::box, {1, 0, 0}, {0, 1, 0}, 0.3, 0.3, pi * 1000 * 0.09));
    finish(s);
    const auto seen = [&](float x) {
        const Vec3 at(-1, 0, 0);
        const Ray ray{at, (Vec3(x, 8, 0) - at).normalized()};
        std::vector<Spectrum> layers(1);
        Sampler sampler(3, 0);
        collect_along(s, ray, LightPaths{}, Sharing::meters_alone(1), sampler, layers);
        return static_cast<double>(photometric(layers[0]));
    };
    const double rho = reflectance(silver, std::cos(std::atan2(2.0, 8.0)));
    EXPECT_NEAR(seen(1.14F), 1000 * rho, 0.5);
    EXPECT_NEAR(seen(0.86F), 1000 * rho, 0.5);
    EXPECT_EQ(seen(1.16F), 0);
    EXPECT_EQ(seen(0.84F), 0);
}

/// A matt room with sun and sky by an opening in its near wall, and what `more` puts in.
template <class More>
Scene sunny_room(const Daylight& d, bool glazed, const More& more) {
    Scene s;
    Room room;
    room.width = 4;
    room.depth = 3;
    room.height = 2.5;
    room.wall_thickness = 0.1;
    room.finish.fill(matt(0.5));
    const auto openings = add_room_with_window(s, room);
    openings->lower = {-0.098F, -0.098F, -0.098F};
    openings->upper = {4.098F, 3.098F, 2.598F};
    if (glazed) add(s, rectangle_mesh(openings->rectangles[0], *glass_of(true, 0.8, 0, 0)));
    more(s);
    s.lights.add("sun", SunLight(d, openings));
    s.lights.add("sky", SkyLight(d, openings));
    s.holes = s.openings = openings;
    s.lights.settle(s.mirrors);
    s.rays.commit();
    return s;
}

const std::vector<MeterPoint> in_the_room{{MeterKind::flat, {2.0F, 1.2F, 1.0F}, Vec3(0, 0.6F, 0.8F)},
                                          {MeterKind::flat, {3.0F, 2.0F, 1.2F}, Vec3(-0.5F, 0.1F, -0.6F).normalized()},
                                          {MeterKind::dome, {0.8F, 1.8F, 1.5F}, Vec3(1, 0, 0)}};

/// The same light however the work is shared: every way of finding a path is left out in one of these.
void expect_alike(const Scene& s, double error) {
    const auto both = measure(s, in_the_room, effort(error, 3), sharing_for(s, 3, 128, 16));
    const auto more_light = measure(s, in_the_room, effort(error, 4), sharing_for(s, 4, 512, 4));
    const auto alone = measure(s, in_the_room, effort(2 * error, 5), Sharing::meters_alone(64));
    for (std::size_t m = 0; m < in_the_room.size(); ++m) {
        EXPECT_LE(both.all(m).relative_error(), error) << m;
        for (const MeterResults* other : {&more_light, &alone}) {
            const Measured a = both.all(m), b = other->all(m);
            EXPECT_NEAR(a.value, b.value, 4 * std::hypot(a.error, b.error)) << "meter " << m;
        }
    }
}

// Every way of finding a path by way of a mirror agrees
// with every other: mirror in the beam, mirror on the wall, a glazed window, a box of sharp varnish, a lamp.
TEST(Mirrors, EveryWayToFindAPathAgrees) {
    Daylight d = by_hand::outside(2000, 500, 20'000, {0.2F, -0.8F, 0.5F});
    constexpr double radius = 0.009;  // twice the true sun's
    d.sun_cos_radius = std::cos(radius);
    d.sun_radiance = d.sun_irradiance * static_cast<float>(1 / (pi * std::sin(radius) * std::sin(radius)));
    const Scene s = sunny_room(d, true, [](Scene& in) {
        add(in,
            rectangle_mesh(facing_rectangle({1.3F, 1.2F, 0.7F}, {-0.2F, -0.5F, 0.8F}, 10, 0.5, 0.5), mirror_finish()));
        add(in, rectangle_mesh(facing_rectangle({3.99F, 1.5F, 1.4F}, {-1, 0, 0}, 0, 1.5, 1.0), mirror_finish()));
        Finish varnish = matt(0.3);
        varnish.gloss = 0.1F;
        varnish.roughness = 0;
        Box box;
        box.centre = {2.4F, 1.6F, 0.3F};
        box.size = {0.6F, 0.4F, 0.6F};
        box.finish = varnish;
        add(in, box_mesh(box));
        add_lamp(in, lamp(LampShape::ball, {0.6F, 2.4F, 1.9F}, {0, 0, -1}, 0.3, 0.3, 3000));
    });
    expect_alike(s, 0.02);
}

// A mirror outside throws the sun into a window that gets none by itself.
TEST(Mirrors, OneOutsideBringsTheSunIn) {
    const Vec3 sun = Vec3(0.1F, 0.75F, 0.6F).normalized();  // behind the house
    const Vec3 at(1.6F, -3.0F, 1.2F), face(1.6F, 2.0F, 1.45F);
    const Vec3 on = (face - at).normalized();
    const Daylight d = by_hand::outside(1500, 300, 80'000, sun);
    const auto with = [&](bool there) {
        return sunny_room(d, false, [&](Scene& in) {
            if (there)
                add(in, rectangle_mesh(facing_rectangle(at, turned(sun, on).normal, 0, 0.3, 0.3), mirror_finish()));
        });
    };
    const MeterPoint meter{MeterKind::flat, face, -on};
    const MeterPoint aside{MeterKind::flat, {3.0F, 1.0F, 1.2F}, Vec3(-0.5F, 0.8F, 0).normalized()};
    const double without = measure(with(false), {meter}, effort(0.003)).all(0).value;
    const Scene s = with(true);
    const double patch = 80'000 * reflectance(silver, turned(sun, on).cosine);
    const Measured sure = measure(s, {aside}, effort(0.004, 50)).all(0);
    for (const double error : {0.05, 0.02, 0.01})
        for (const std::uint64_t seed : {1, 2, 3, 4}) {
            const MeterResults r = measure(s, {meter, aside}, effort(error, seed));
            // Of the walls, what the patch lights comes besides: some per cent of the sky's.
            EXPECT_NEAR(r.all(0).value, patch + without, 4 * r.all(0).error + 0.02 * without + 0.004 * patch) << seed;
            EXPECT_NEAR(r.all(1).value, sure.value, 4.5 * std::hypot(r.all(1).error, sure.error)) << seed;
        }
}

}  // namespace
}  // namespace rushlight
