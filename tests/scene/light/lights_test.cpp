// Choosing among lights, and daylight that comes in by openings.
#include "scene/light/lights.h"

#include "by_chance.h"
#include "outside_by_hand.h"
#include "quantity/units.h"
#include "scene/room.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <memory>
#include <random>

namespace rushlight {
namespace {

using namespace by_chance;
using by_hand::outside;

std::shared_ptr<Openings> openings(std::vector<Rectangle> rectangles) {
    auto o = std::make_shared<Openings>();
    o->rectangles = std::move(rectangles);
    o->lower = {0, 0, 0};
    o->upper = {4, 5, 3};
    o->closed = true;
    return o;
}

Rectangle hole(Vec3 centre, Vec3 into_room, double width, double height) {
    return facing_rectangle(centre, into_room, 0, width, height);
}

// Flux of an even luminance through a hole: pi L A (any photometry text). A slit as narrow as a door ajar must
// not lose what comes in at a slant.
TEST(SkyLight, FluxThroughAHole) {
    for (const double width : {1.0, 0.1, 0.02}) {
        const SkyLight sky(outside(1000, 1000), openings({hole({2, 0, 1.5F}, {0, 1, 0}, width, 0.5)}));
        std::mt19937_64 r(1);
        Mean m;
        for (int i = 0; i < 100'000; ++i)
            m.add(static_cast<double>(photometric(sky.emitted(even_numbers<5>(r)).throughput)));
        EXPECT_NEAR(m.value() / (pi * 1000 * width * 0.5), 1.0, 1e-4) << width;
        EXPECT_NEAR(sky.flux() / (pi * 1000 * width * 0.5), 1.0, 1e-3);
    }
}

// Flux of the sun through a hole: E_n A cos.
TEST(SunLight, FluxThroughAHole) {
    for (const double width : {1.0, 0.02}) {
        const Vec3 toward = Vec3(0.5F, -0.6F, 0.7F).normalized();
        const SunLight sun(outside(0, 0, 50'000, toward), openings({hole({2, 0, 1.5F}, {0, 1, 0}, width, 0.5)}));
        const double want = 50'000 * width * 0.5 * static_cast<double>(-toward.y);
        std::mt19937_64 r(1);
        Mean m;
        for (int i = 0; i < 100'000; ++i)
            m.add(static_cast<double>(photometric(sun.emitted(even_numbers<5>(r)).throughput)));
        EXPECT_NEAR(m.value() / want, 1.0, 1e-3) << width;
        EXPECT_NEAR(sun.flux() / want, 1.0, 1e-4);
    }
}

// Illuminance of a point in a room from a window in its wall, even sky and black ground: half of the perpendicular
// rectangle's closed form lies above the horizon. Window 2.0 wide, .1 to 1.4 above the point: 15.0560, 4.5862,
// 1.7692, .8312 % of pi L at 1 to 4 m (configuration-factor catalogues).
TEST(SkyLight, WindowSeenFromInside) {
    const SkyLight sky(outside(1000, 0), openings({hole({2, 0, 1.55F}, {0, 1, 0}, 2.0, 1.3)}));
    const std::array<double, 4> shares{15.0560, 4.5862, 1.7692, 0.8312};
    for (std::size_t i = 0; i < shares.size(); ++i) {
        std::mt19937_64 r(2);
        Mean m;
        for (int k = 0; k < 100'000; ++k) {
            const auto in = sky.incoming({2, static_cast<float>(i + 1), 0.8F}, even(r), even(r));
            m.add(in ? static_cast<double>(photometric(in->radiance) * std::max(0.0F, in->toward.z) / in->pdf)
                     : 0.0);
        }
        expect_mean(m, pi * 1000 * shares[i] / 100, 0.002);
    }
}

// Several openings, one seen through another's plane: the pdf is the mixture's, both ways.
TEST(SkyLight, TellsItsDensities) {
    const auto all = openings({hole({2, 0, 1.5F}, {0, 1, 0}, 2.0, 1.3), hole({4, 3, 1.5F}, {-1, 0, 0}, 0.5, 2.0),
                               hole({2, 2.5F, 3}, {0, 0, -1}, 1.0, 1.0)});
    const SkyLight sky(outside(1000, 100), all);
    std::mt19937_64 r(3);
    Mean solid_angle;
    const Vec3 from(1.2F, 1.7F, 0.9F);
    for (int i = 0; i < 50'000; ++i) {
        const auto in = sky.incoming(from, even(r), even(r));
        ASSERT_TRUE(in.has_value());
        EXPECT_NEAR(sky.incoming_pdf(from, Hit{}, in->toward) / in->pdf, 1.0F, 1e-4F);
        solid_angle.add(1 / static_cast<double>(in->pdf));
    }
    Mean seen;
    for (int i = 0; i < 400'000; ++i) {
        const float z = 2 * even(r) - 1;
        const float a = 2 * static_cast<float>(pi) * even(r);
        const float s = std::sqrt(1 - z * z);
        seen.add(sky.incoming_pdf(from, Hit{}, {s * std::cos(a), s * std::sin(a), z}));
    }
    EXPECT_NEAR(seen.value() * 4 * pi, 1.0, 4 * seen.error() * 4 * pi);
    EXPECT_LT(seen.error() * 4 * pi, 0.01);

    for (int i = 0; i < 5000; ++i) {
        const EmittedRay ray = sky.emitted(even_numbers<5>(r));
        Hit end;
        end.position = ray.origin + ray.direction * 0.4F;
        EXPECT_NEAR(sky.emission_pdf(end, ray.direction) / ray.pdf, 1.0F, 1e-4F);
        ASSERT_TRUE(ray.from_outside.has_value());
    }
}

TEST(SunLight, TellsItsDensities) {
    const Vec3 toward = Vec3(0.3F, -0.4F, 0.6F).normalized();
    const SunLight sun(outside(0, 0, 80'000, toward),
                       openings({hole({2, 0, 1.5F}, {0, 1, 0}, 2.0, 1.3), hole({2, 2.5F, 3}, {0, 0, -1}, 1.0, 1.0),
                                 hole({2, 5, 1.5F}, {0, -1, 0}, 1.0, 1.0)}));
    std::mt19937_64 r(4);
    int off_disc = 0;
    for (int i = 0; i < 5000; ++i) {
        const EmittedRay ray = sun.emitted(even_numbers<5>(r));
        if (!(ray.pdf > 0)) continue;
        Hit end;
        end.position = ray.origin + ray.direction * 0.4F;
        EXPECT_NEAR(sun.emission_pdf(end, ray.direction) / ray.pdf, 1.0F, 2e-3F);
        off_disc += photometric(sun.radiance(end, ray.direction)) == 0;
    }
    EXPECT_LE(off_disc, 25);  // on the disc's very rim

    // The disc fills 6.797e-5 sr: diameter .533 degrees (almanacs); a little off it there is nothing.
    const auto in = sun.incoming(Vec3(2, 0, 1.5F) - toward * 1.5F, 0.5F, 0.5F);
    ASSERT_TRUE(in.has_value());
    EXPECT_NEAR(1 / in->pdf, 6.797e-5F, 1e-8F);
    const Vec3 beside = (toward + Frame(toward).x * 0.0048F).normalized();
    EXPECT_EQ(photometric(sun.radiance(Hit{}, -beside)), 0.0F);
    const Vec3 within = (toward + Frame(toward).x * 0.0045F).normalized();
    EXPECT_GT(photometric(sun.radiance(Hit{}, -within)), 0.0F);
}

// From inside, the sun is asked for only where it can shine; outside and in open places always.
TEST(SunLight, ReachesWhereItShines) {
    const SunLight sun(outside(0, 0, 80'000, {0, -1, 0}), openings({hole({2, 0, 1.5F}, {0, 1, 0}, 2.0, 1.0)}));
    EXPECT_GT(sun.expected_lux({2, 3, 1.5F}), 0.0F);
    EXPECT_GT(sun.expected_lux({2.999F, 4, 1.9F}), 0.0F);  // in the penumbra
    EXPECT_GT(sun.expected_lux({3.01F, 4, 1.5F}), 0.0F);
    EXPECT_EQ(sun.expected_lux({3.5F, 3, 1.5F}), 0.0F);
    EXPECT_FALSE(sun.incoming({3.5F, 3, 1.5F}, 0.5F, 0.5F).has_value());
    EXPECT_GT(sun.expected_lux({2, -3, 1.5F}), 0.0F);
    EXPECT_GT(sun.expected_lux({3.5F, -3, 1.5F}), 0.0F);
}

// A sun seen in the open gives its normal illuminance, by luminance times solid angle.
TEST(SunLight, OpenPlace) {
    const Vec3 toward = Vec3(0.2F, 0.1F, 0.9F).normalized();
    const SunLight sun(outside(0, 0, 100'000, toward), std::make_shared<Openings>());
    std::mt19937_64 r(5);
    Mean m;
    for (int i = 0; i < 10'000; ++i) {
        const auto in = sun.incoming({0, 0, 0}, even(r), even(r));
        ASSERT_TRUE(in.has_value());
        m.add(static_cast<double>(photometric(in->radiance) * in->toward.dot(toward) / in->pdf));
    }
    EXPECT_NEAR(m.value(), 100'000, 20);
}

Lamp ball(Vec3 at, double lumen) {
    Lamp l;
    l.shape = LampShape::ball;
    l.at = at;
    l.width = 0.1;
    l.intensity_or_flux = equal_energy() * static_cast<float>(lumen);
    return l;
}

// The chances of asking each light are a distribution that leaves none out; so are those of starting from each.
TEST(Lights, ChancesAreADistribution) {
    Lights lights;
    lights.add("near", BallLamp(ball({0, 0, 1}, 100)));
    lights.add("far", BallLamp(ball({0, 0, 30}, 100)));
    lights.add("off", BallLamp(ball({1, 0, 1}, 0)));
    lights.add("sky", SkyLight(outside(100, 10), openings({hole({2, 0, 1.5F}, {0, 1, 0}, 2.0, 1.3)})));
    lights.settle();
    EXPECT_EQ(lights.sky(), 3);
    std::array<float, 4> chance{};
    for (const Vec3& from : {Vec3(0, 0, 0), Vec3(0, 0, 29), Vec3(0, 0, 1), Vec3(1e4F, 0, 0)}) {
        lights.chances(from, chance);
        float sum = 0;
        for (const float c : chance) {
            EXPECT_GT(c, 0.0F);
            sum += c;
        }
        EXPECT_NEAR(sum, 1.0F, 1e-5F);
    }
    lights.chances({0, 0, 0}, chance);
    EXPECT_GT(chance[0], 5 * chance[1]);

    float sum = 0;
    for (std::size_t i = 0; i < 4; ++i) sum += lights.start_chance(i);
    EXPECT_NEAR(sum, 1.0F, 1e-5F);
    EXPECT_EQ(lights.start_chance(2), 0.0F);

    // Whichever light starts, the mean of what is carried is the flux of all.
    std::mt19937_64 r(6);
    Mean m;
    std::array<Mean, 4> each;
    for (int i = 0; i < 400'000; ++i) {
        const auto s = lights.emitted(even(r), even_numbers<5>(r));
        const double throughput = static_cast<double>(photometric(s.ray.throughput));
        m.add(throughput);
        for (std::size_t k = 0; k < 4; ++k) each[k].add(s.light == k ? throughput : 0.0);
    }
    const double window = pi * 2.0 * 1.3 * (100 + 10) / 2;  // half of what a vertical hole sees is sky
    expect_mean(m, 200 + window, 0.003);
    expect_mean(each[0], 100, 0.01);
    expect_mean(each[1], 100, 0.01);
    EXPECT_EQ(each[2].value(), 0.0);
    expect_mean(each[3], window, 0.01);
}

// Dark: nothing to start from, nothing broken.
TEST(Lights, DarkPlace) {
    Lights lights;
    lights.add("off", BallLamp(ball({1, 0, 1}, 0)));
    lights.add("off too", BallLamp(ball({2, 0, 1}, 0)));
    lights.settle();
    std::array<float, 2> chance{};
    lights.chances({0, 0, 0}, chance);
    EXPECT_NEAR(chance[0] + chance[1], 1.0F, 1e-6F);
    EXPECT_EQ(lights.emitted(0.7F, {0.1F, 0.2F, 0.3F, 0.4F, 0.5F}).ray.pdf, 0.0F);
}

}  // namespace
}  // namespace rushlight
