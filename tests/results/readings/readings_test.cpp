// The arithmetic of a gaffer's readings.
#include "results/readings/camera_readings.h"
#include "results/light/direct_light.h"
#include "results/glint/eye_light.h"
#include "results/sheet/key_light.h"
#include "results/compare/match.h"

#include "paths/small_scenes.h"

#include <gtest/gtest.h>

#include <cmath>

namespace rushlight {
namespace {

// (300 + 100) : 100 is 2.00 stops, 300 : 100 is 1.585 (lighting texts; key:fill must say which it means).
TEST(KeyToFill, TwoConventions) {
    const Ratio cheeks{"A cheeks", 4, {2, 0.03}};
    const auto alone = key_alone_to_fill(cheeks);
    ASSERT_TRUE(alone);
    EXPECT_NEAR(alone->ratio, 3, 1e-12);
    EXPECT_NEAR(alone->stops.value, 1.5849625, 1e-6);
    EXPECT_NEAR(alone->stops.error, 0.04, 1e-9);  // d log2(r - 1) = r / (r - 1) d log2(r)
    EXPECT_FALSE(key_alone_to_fill({"A cheeks", 1.02, {std::log2(1.02), 0.01}}));
}

TEST(EyeLight, ClockIsReadAsInThePicture) {
    EXPECT_NEAR(clock_of(0, 1), 0, 1e-12);
    EXPECT_NEAR(clock_of(1, 0), 3, 1e-12);
    EXPECT_NEAR(clock_of(0, -1), 6, 1e-12);
    EXPECT_NEAR(clock_of(-1, std::sqrt(3.0)), 11, 1e-9);
}

// The softness number of a round or square source is its size over its distance (common practice): a .9 m box at
// 1.5 m, .6. Ours is the disc of the same spread; a square spreads as a disc 2 / sqrt 3 of its side.
TEST(DirectLight, SoftnessOfABox) {
    Scene s;
    Lamp box = small::lamp(LampShape::box, {0, 0, 1.5F}, {0, 0, -1}, 0.9, 0.9, 5000);
    add_lamp(s, box);
    small::finish(s);
    const DirectLight direct = direct_light(s, 0, {MeterKind::flat, {0, 0, 0}, {0, 0, 1}, 0});
    // Lambert's own closed form of a centred square: E = 4 L b / sqrt(1 + b^2) atan(b / sqrt(1 + b^2)), b = .45 / 1.5.
    const double b = 0.3, lambert = 4 * b / std::hypot(1, b) * std::atan(b / std::hypot(1, b));
    EXPECT_NEAR(direct.lux, 5000 / (pi * 0.81) * lambert, 0.01 * direct.lux);
    EXPECT_NEAR(direct.width, 0.6 * 2 / std::sqrt(3.0), 0.05);
}

// ND 0.3 is a stop: a window 1.4 stops over the clip needs 0.6; holding it by light needs 2^1.4 as much on the face.
TEST(Windows, WhatWouldHoldThem) {
    CameraReadings c;
    c.headroom = 6;
    WindowInView w;
    w.luminance = {1000, 10};
    w.over_grey = {7.4, 0.01};
    w.holds = false;
    c.windows.push_back(w);
    hold_windows_against({12.5, 0.1}, 200, c);
    ASSERT_TRUE(c.windows[0].over_face);
    EXPECT_NEAR(c.windows[0].over_face->value, std::log2(80), 1e-9);
    EXPECT_NEAR(c.windows[0].lux_to_hold, 200 * std::exp2(1.4), 1e-6);
}

Sheet side(const char* mark, double lux, double kelvin, double stops, double step) {
    Sheet s;
    s.setup = mark;
    s.camera = CameraReadings{};
    s.camera->subject = mark;
    s.camera->metered = 100;
    s.camera->white_balance = 5600;
    s.camera->lens = 50;
    Reading r;
    r.mark = mark;
    r.side = "key";
    r.lux = {lux, lux * 0.003};
    r.kelvin = kelvin;
    s.readings.push_back(r);
    PersonReadings p;
    p.mark = mark;
    p.key_to_fill.push_back({"(K+F):F", std::exp2(stops), {stops, 0.01}});
    p.background_step = Measured{step, 0.02};
    p.eye_seen = true;
    p.eye_lights.resize(1);
    s.people.push_back(p);
    return s;
}

// A third of a stop, 20 mired, half a stop: common practice, no source.
TEST(Match, HoldsTwoSidesAgainstWhatAnEyeForgives) {
    const Match good = match_of(side("A", 100, 5600, 2, -1), side("B", 115, 5300, 2.2, -1.3));
    ASSERT_EQ(good.rows.size(), 5U);
    for (const MatchRow& r : good.rows) EXPECT_TRUE(r.known && r.matches()) << r.name;
    const Match bad = match_of(side("A", 100, 5600, 2, -1), side("B", 141.42136, 4800, 2.6, 0));
    EXPECT_NEAR(bad.rows[0].apart.value, 0.5, 1e-6);
    EXPECT_NEAR(bad.rows[2].apart.value, 1e6 / 4800 - 1e6 / 5600, 1e-6);
    for (std::size_t i = 0; i < 4; ++i) EXPECT_FALSE(bad.rows[i].matches()) << bad.rows[i].name;
}

}  // namespace
}  // namespace rushlight
