// Where the sun falls in the demo scenes, sun windows, the view, the order.
#include "results/day/day.h"
#include "results/day/continuity.h"
#include "results/day/direct_sun.h"
#include "results/day/shooting_order.h"
#include "results/day/sun_window.h"
#include "rooms_as_text.h"
#include "setup/read/setup_file.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace rushlight {
namespace {

rushlight::Setup scene_file(const char* name, const char* setup) {
    return SetupFile::read(std::string(RUSHLIGHT_SOURCE) + "/scenes/" + name).setup(setup, "as found");
}

const SunOn& on(const std::vector<SunOn>& all, const std::string& what) {
    return *std::find_if(all.begin(), all.end(), [&](const SunOn& s) { return s.what == what; });
}

constexpr double minute = 1.0 / 60;

// Times worked out by hand for points of the scene (window edges, sun by the almanac), without the wall's thickness,
// bars or the head's own shade; these take minutes at either end.
TEST(DirectSun, TheWorkshopsStrip) {
    const rushlight::Setup s = scene_file("workshop.toml", "1 wide");
    const auto sun = direct_sun(s, build_scene(s), {9.0, 15.0, 1.0 / 6});
    const SunOn& a = on(sun, "A's face");
    const SunOn& b = on(sun, "B's face");
    ASSERT_EQ(a.when.size(), 1U);
    EXPECT_NEAR(a.when[0].from, 11.0, 15 * minute);
    EXPECT_NEAR(a.when[0].to, 12 + 28 * minute, 20 * minute);
    EXPECT_LT(a.when[0].to, 12 + 28 * minute);  // the reveal shortens it
    ASSERT_EQ(b.when.size(), 2U);
    EXPECT_NEAR(b.when[0].to, 10 + 25 * minute, 8 * minute);
    EXPECT_NEAR(b.when[1].from, 12 + 38 * minute, 10 * minute);
    EXPECT_NEAR(b.when[1].to, 13 + 39 * minute, 20 * minute);
}

// South of the equator the sun stands in the north and goes from right to left for someone who looks out: by hand the
// patch reaches her face at about 12:50.
TEST(DirectSun, TheGaugeKeepersFace) {
    const rushlight::Setup s = scene_file("river-gauge.toml", "1 main");
    const auto sun = direct_sun(s, build_scene(s), {9.0, 16.0, 1.0 / 6});
    const SunOn& face = on(sun, "A's face");
    ASSERT_FALSE(face.when.empty());
    EXPECT_NEAR(face.when[0].from, 12 + 50 * minute, 25 * minute);
    EXPECT_LT(face.when.back().to, 15 + 5 * minute);
}

// A hole of 1 m by 1 m in the ceiling: on the floor the patch's edge passes a point when the shadow of the hole's edge
// does, by the sun's own place alone.
TEST(DirectSun, AHoleInTheRoof) {
    const auto file = SetupFile::from_text(
        "[place]\nlatitude = 50\nlongitude = 0\nnear_wall_faces = 180\nwall_thickness = 0\n"
        "room = { width = 8, depth = 8, height = 3 }\n"
        "[[place.opening]]\nname = \"hole\"\nwall = \"ceiling\"\nfrom = 3.5\nto = 4.5\nsill = 3.5\nhead = 4.5\n"
        "glass = \"none\"\n[day]\ndate = 2026-06-21\ntime_zone = \"UTC\"\n"
        "[[meter]]\nname = \"floor\"\nat = [4.0, 5.5, 0.0001]\n",
        "f.toml");
    const rushlight::Setup s = file.setup();
    const auto sun = direct_sun(s, build_scene(s), {6.0, 18.0, 1.0 / 6});
    const SunOn& floor = on(sun, "floor");
    ASSERT_EQ(floor.when.size(), 1U);
    const auto through = [&](double hours) {
        const SunPosition p = sun_at(s, hours);
        const Vec3 d = toward_compass(s.place, p.azimuth, p.altitude);
        const double t = 3 / static_cast<double>(d.z), x = 4 + t * static_cast<double>(d.x),
                     y = 5.5 + t * static_cast<double>(d.y);
        return x > 3.5 && x < 4.5 && y > 3.5 && y < 4.5;
    };
    for (const double edge : {floor.when[0].from, floor.when[0].to})
        EXPECT_NE(through(edge - 0.25 * minute), through(edge + 0.25 * minute)) << edge;
}

DayCourse level_course(const std::vector<double>& level) {
    DayCourse day;
    WeatherCourse w;
    FaceCourse f;
    f.mark = "A";
    f.in_frame = true;
    for (std::size_t i = 0; i < level.size(); ++i) {
        day.clock.push_back(10 + static_cast<double>(i));
        f.level.push_back({level[i], 0});
        f.key_fill.push_back({2, 0});
        f.kelvin.push_back(5600);
    }
    w.faces.push_back(f);
    day.weathers.push_back(w);
    return day;
}

TEST(SunWindow, EndsWhereTheThirdOfAStopIsReached) {
    DayCourse day = level_course({-1, 0, 0.5, 0.5, 0});
    day.plan = 1;
    find_sun_windows(day, day.weathers[0]);
    const WeatherCourse& w = day.weathers[0];
    EXPECT_NEAR(w.around_plan.from, 11 - 1.0 / 3, 1e-9);
    EXPECT_NEAR(w.around_plan.to, 11 + 2.0 / 3, 1e-9);
    EXPECT_EQ(w.first_to_go, "level at A");
    ASSERT_EQ(w.holds.size(), 2U);
    EXPECT_NEAR(w.holds[1].from, 13 + 1.0 / 3, 1e-9);
    EXPECT_NEAR(w.holds[1].to, 14, 1e-9);
    // Where the sun comes in between, the window ends that very minute.
    day.sun_on.push_back({"A's face", "A", {{11.25, 12.5}}});
    day.weathers[0].holds.clear();
    day.weathers[0].off.clear();
    find_sun_windows(day, day.weathers[0]);
    EXPECT_NEAR(day.weathers[0].around_plan.to, 11.25, 1e-9);
}

ToShoot shot(const char* name, double minutes, std::vector<Interval> holds, Vec3 looks = {0, 1, 0}) {
    ToShoot s;
    s.name = name;
    s.minutes = minutes;
    s.holds = std::move(holds);
    s.looks = looks;
    return s;
}

TEST(ShootingOrder, HeaviestFirstAndOneTurn) {
    const std::vector<Interval> all{{0, 24}};
    const auto order = shooting_order(
        {shot("insert", 20, all), shot("reverse", 60, all, {0, -1, 0}), shot("wide", 90, all), shot("single", 45, all)},
        8, 18, Weather::overcast);
    ASSERT_EQ(order.shots.size(), 4U);
    EXPECT_TRUE(order.exact);
    EXPECT_EQ(order.shots[0].name, "wide");
    int turns = 0;
    for (std::size_t i = 0; i + 1 < order.shots.size(); ++i)
        turns += (order.shots[i].name == "reverse") != (order.shots[i + 1].name == "reverse");
    EXPECT_EQ(turns, 1);  // so the reverse comes last
    EXPECT_NEAR(order.shots[0].from, 8, 1e-9);
    EXPECT_NEAR(order.shots.back().to, 8 + 215.0 / 60, 1e-9);
}

TEST(ShootingOrder, WindowsAndPeopleGoBeforeWeight) {
    std::vector<ToShoot> list{shot("wide", 60, {{0, 24}}), shot("sun on bench", 30, {{9, 9.5}}),
                              shot("with B", 30, {{0, 24}})};
    list[2].free_from = 13;
    list[2].who = "B";
    const auto order = shooting_order(list, 9, 17, Weather::clear);
    EXPECT_EQ(order.shots[0].name, "sun on bench");
    EXPECT_EQ(order.shots[2].name, "with B");
    EXPECT_GE(order.shots[2].from, 13 - 1e-9);
    EXPECT_NE(order.shots[2].reason.find("waits for B until 13:00"), std::string::npos);
    EXPECT_EQ(order.outside, 0);
}

// A reason names what decides: the light that goes, the work, the side.
TEST(ShootingOrder, SaysAReasonThatOneFollows) {
    const auto order = shooting_order({shot("wide", 60, {{0, 24}}), shot("sun on bench", 30, {{9, 9.5}}),
                                       shot("reverse", 45, {{0, 24}}, {0, -1, 0}), shot("single", 30, {{0, 24}})},
                                      9, 17, Weather::clear);
    const auto reason = [&](const std::string& name) {
        for (const Shot& s : order.shots)
            if (s.name == name) return s.reason;
        return std::string();
    };
    EXPECT_NE(reason("sun on bench").find("its light goes at 09:30"), std::string::npos) << reason("sun on bench");
    EXPECT_EQ(reason("sun on bench").find("most work"), std::string::npos);
    EXPECT_NE(reason("wide").find("same side as “sun on bench”"), std::string::npos) << reason("wide");
    EXPECT_NE(reason("reverse").find("turn-around"), std::string::npos) << reason("reverse");
    EXPECT_NE(reason("reverse").find("its light lasts until"), std::string::npos) << reason("reverse");
}

// Against every order there is, started without waiting: none leaves fewer minutes outside.
TEST(ShootingOrder, NoOtherOrderIsBetter) {
    const double hours[][3] = {{45, 10, 12}, {30, 9, 9.75}, {60, 11, 13}, {20, 9.5, 11}, {40, 9, 14}, {25, 12.5, 13.5}};
    std::vector<ToShoot> list;
    for (const auto& h : hours) list.push_back(shot("x", h[0], {{h[1], h[2]}}));
    const auto best = shooting_order(list, 9, 18, Weather::clear);
    std::vector<std::size_t> order{0, 1, 2, 3, 4, 5};
    double least = 1e9;
    do {
        double at = 9, outside = 0;
        for (const std::size_t i : order) {
            const double to = at + list[i].minutes / 60;
            const double in = std::max(0.0, std::min(to, hours[i][2]) - std::max(at, hours[i][1]));
            outside += (to - at - in) * 60;
            at = to;
        }
        least = std::min(least, outside);
    } while (std::next_permutation(order.begin(), order.end()));
    EXPECT_LE(best.outside, least + 1e-6);
    double end = 0;
    for (const Shot& s : best.shots) {
        EXPECT_GE(s.from, end - 1e-9);
        end = s.to;
    }
}

TEST(Continuity, BothHalvesOfAConversation) {
    DayCourse a = level_course({0, 0, 0}), b = a;
    a.setup = "1";
    b.setup = "2";
    const auto meters = [](DayCourse& d, double near, double kelvin) {
        for (const auto& [name, lux] : {std::pair{"A near cheek", near}, {"A far cheek", 100.0}, {"A front", 200.0}})
            d.weathers[0].meters.push_back({name, "A", "flat", std::vector<Measured>(3, {lux, 0}), {}, {}});
        for (MeterCourse& m : d.weathers[0].meters) m.kelvin.assign(3, kelvin);
    };
    meters(a, 400, 5600);
    meters(b, 460, 5500);
    auto found = mismatches({a, b}, Weather::clear, {10, 12});
    ASSERT_EQ(found.size(), 1U);
    EXPECT_NEAR(found[0].key_fill, std::log2(1.15), 1e-9);
    EXPECT_FALSE(found[0].any);
    b.weathers[0].meters.clear();
    meters(b, 600, 5500);
    EXPECT_TRUE(mismatches({a, b}, Weather::clear, {10, 12})[0].any);
    b.weathers[0].meters.clear();
    meters(b, 400, 5390);
    EXPECT_TRUE(mismatches({a, b}, Weather::clear, {10, 12})[0].any);
}

// Through a tree of which 40 % is gaps, 40 % of the sun comes: in and out of it.
TEST(Tree, LetsItsGapsThrough) {
    const auto file = SetupFile::from_text(
        testing_rooms::room("5", "4", "2.7") +
            "[[place.furniture]]\nname = \"tree\"\nat = [2, -6]\nsize = [3, 2, 9]\nfinish = \"foliage\"\ngaps = 0.4\n",
        "f.toml");
    const Scene scene = build_scene(file.setup());
    Spectrum share{1.0F};
    ASSERT_TRUE(scene.rays.passes(Ray{{2, -2, 3}, Vec3(0.1F, -1, 0.2F).normalized()}, share));
    EXPECT_NEAR(share[5], 0.4, 1e-4);
}

}  // namespace
}  // namespace rushlight
