// The room's shell must be tight: light comes and goes through its openings and nowhere else.
#include "scene/room.h"

#include "by_chance.h"
#include "quantity/units.h"
#include "scene/rays/ray_scene.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>
#include <vector>

namespace rushlight {
namespace {

using namespace by_chance;

Opening opening(Wall wall, double from, double to, double sill, double head) {
    Opening o;
    o.name = "opening";
    o.wall = wall;
    o.from = from;
    o.to = to;
    o.sill = sill;
    o.head = head;
    o.glazed = false;
    return o;
}

/// Odd sizes, so that no edge falls on a round number; an opening in every wall, two in one.
Room shell() {
    Room r;
    r.width = 4.37;
    r.depth = 3.13;
    r.height = 2.61;
    r.openings = {opening(Wall::near, 0.5, 1.7, 0.9, 2.1),    opening(Wall::far, 0.7, 1.1, 0.0, 2.05),
                  opening(Wall::far, 1.1, 2.3, 0.9, 2.05),    opening(Wall::left, 1.0, 2.0, 0.8, 1.9),
                  opening(Wall::right, 0.33, 0.77, 1.2, 2.5), opening(Wall::floor, 2.0, 2.6, 1.0, 1.4),
                  opening(Wall::ceiling, 1.0, 3.0, 1.0, 2.0)};
    return r;
}

RayScene built(const Room& room, const std::vector<Mesh>& more = {}) {
    RayScene rays;
    Part part;
    part.surface = rays.add_surface(Surface(Finish{}));
    for (int w = 0; w < 6; ++w) rays.add(wall_mesh(room, static_cast<Wall>(w)), part);
    for (const Opening& o : room.openings) rays.add(reveal_mesh(room, o), part);
    for (const Mesh& m : more) rays.add(m, part);
    rays.commit();
    return rays;
}

struct Sent {
    Vec3 from, toward;
};
Sent sent(const Room& room, std::mt19937_64& r) {
    const auto inside = [&](double size) {
        return static_cast<float>(size * (0.001 + 0.998 * static_cast<double>(even(r))));
    };
    const Vec3 from(inside(room.width), inside(room.depth), inside(room.height));
    const float z = 2 * even(r) - 1;
    const float a = 2 * static_cast<float>(pi) * even(r);
    const float s = std::sqrt(1 - z * z);
    return {from, {s * std::cos(a), s * std::sin(a), z}};
}

TEST(Room, ClosedRoomLetsNothingOut) {
    Room room = shell();
    room.openings.clear();
    const RayScene rays = built(room);
    std::mt19937_64 r(1);
    for (int i = 0; i < 1'000'000; ++i) {
        const Sent s = sent(room, r);
        ASSERT_TRUE(rays.first_hit(Ray{s.from, s.toward}).has_value());
    }
    // Straight into the seams and corners.
    const auto w = static_cast<float>(room.width), d = static_cast<float>(room.depth),
               h = static_cast<float>(room.height);
    for (int i = 0; i < 200'000; ++i) {
        const Sent s = sent(room, r);
        Vec3 seam(w * static_cast<float>(r() & 1), d * static_cast<float>(r() & 1), h * static_cast<float>(r() & 1));
        if (const auto axis = static_cast<int>(r() % 4); axis < 3) seam[axis] = Vec3(w, d, h)[axis] * even(r);
        ASSERT_TRUE(rays.first_hit(Ray{s.from, (seam - s.from).normalized()}).has_value());
    }
}

// Every ray that gets out crosses the outer end of a hole, and every ray that crosses both ends of a hole freely
// gets out: the share that escapes is the one that geometry asks for.
TEST(Room, LightLeavesByTheOpeningsAlone) {
    const Room room = shell();
    const RayScene rays = built(room);
    std::vector<Rectangle> outer, inner;
    for (const Opening& o : room.openings) {
        outer.push_back(opening_rectangle(room, o));
        Rectangle in = outer.back();
        in.centre += in.normal * static_cast<float>(room.wall_thickness);
        inner.push_back(in);
    }
    std::mt19937_64 r(2);
    int out = 0, astray = 0, caught = 0;
    for (int i = 0; i < 2'000'000; ++i) {
        const Sent s = sent(room, r);
        bool way_out = false;
        for (std::size_t k = 0; k < outer.size(); ++k)
            way_out = way_out || (outer[k].crossed_by(s.from, s.toward) && inner[k].crossed_by(s.from, s.toward));
        const bool met = rays.first_hit(Ray{s.from, s.toward}).has_value();
        out += !met;
        astray += !met && !way_out;
        caught += met && way_out;
    }
    EXPECT_GT(out, 50'000);
    EXPECT_EQ(astray, 0);
    // The reveals end at the glass: of what leaves at a slant by the very edge they catch no more than rounding does.
    EXPECT_LT(caught, out / 5000);
}

// A hole that reaches a corner of its wall: nothing leaks beside it.
TEST(Room, OpeningInACorner) {
    for (const Wall wall : {Wall::near, Wall::left, Wall::ceiling}) {
        Room room = shell();
        room.openings = {opening(wall, 0, 1.2, 0, 1.1)};
        const RayScene rays = built(room);
        const Rectangle hole = opening_rectangle(room, room.openings[0]);
        std::mt19937_64 r(3);
        int out = 0;
        for (int i = 0; i < 300'000; ++i) {
            const Sent s = sent(room, r);
            if (rays.first_hit(Ray{s.from, s.toward})) continue;
            ++out;
            ASSERT_TRUE(hole.crossed_by(s.from, s.toward).has_value());
        }
        EXPECT_GT(out, 1000);
    }
    // One that is all of its wall, up to every corner.
    Room room = shell();
    room.openings = {opening(Wall::right, 0, room.depth, 0, room.height)};
    const RayScene rays = built(room);
    const Rectangle hole = opening_rectangle(room, room.openings[0]);
    std::mt19937_64 r(4);
    for (int i = 0; i < 100'000; ++i) {
        const Sent s = sent(room, r);
        if (rays.first_hit(Ray{s.from, s.toward})) continue;
        ASSERT_TRUE(hole.crossed_by(s.from, s.toward).has_value());
    }
}

// A flag hung flat on the wall, and another in the very same place: rays meet one of them, once, and go nowhere.
TEST(Room, FlagInTheWallsPlane) {
    Room room = shell();
    room.openings.clear();
    Finish black;
    black.reflectance = Spectrum{0.02F};
    const Mesh flag = rectangle_mesh(facing_rectangle({2, 0, 1.3F}, {0, 1, 0}, 0, 1.2, 1.2), black);
    const RayScene rays = built(room, {flag, flag});
    std::mt19937_64 r(5);
    for (int i = 0; i < 300'000; ++i) {
        const Sent s = sent(room, r);
        const auto hit = rays.first_hit(Ray{s.from, s.toward});
        ASSERT_TRUE(hit.has_value());
        // Back from what was met, into the room: neither twin nor wall may stand in the way at once.
        const Vec3 start = lifted(hit->position, hit->normal, -s.toward, hit->distance);
        Spectrum share{1.0F};
        ASSERT_TRUE(rays.passes(Ray{start, -s.toward, hit->distance * 0.999F}, share));
    }
}

// Where the walls stand: openings measured along their wall, as their frame says.
TEST(Room, OpeningsLieWhereTheyWereMeasured) {
    const Room room = shell();
    const auto at = [&](std::size_t i) { return opening_rectangle(room, room.openings[i]); };
    const auto expect_near = [](const Vec3& got, const Vec3& want) {
        EXPECT_LT((got - want).length(), 1e-5F) << got << " for " << want;
    };
    expect_near(at(0).centre, {1.1F, -0.2F, 1.5F});
    expect_near(at(0).normal, {0, 1, 0});
    expect_near(at(2).centre, {1.7F, 3.33F, 1.475F});
    expect_near(at(3).centre, {-0.2F, 1.5F, 1.35F});
    expect_near(at(4).centre, {4.57F, 0.55F, 1.85F});
    expect_near(at(5).centre, {2.3F, 1.2F, -0.2F});
    expect_near(at(6).centre, {2.0F, 1.5F, 2.81F});
    expect_near(at(6).normal, {0, 0, -1});
    for (std::size_t i = 0; i < room.openings.size(); ++i) {
        const Opening& o = room.openings[i];
        EXPECT_NEAR(at(i).area(), (o.to - o.from) * (o.head - o.sill), 1e-5);
        EXPECT_LT((at(i).across.cross(at(i).up) - at(i).normal).length(), 1e-6F);
    }
}

// Glass, bars and ND as one pane: the product of what they pass, at normal incidence.
TEST(Room, GlassOfAnOpening) {
    EXPECT_FALSE(glass_of(false, 0.8, 0, 0).has_value());
    const auto bars = glass_of(false, 0.8, 0.25, 0);
    ASSERT_TRUE(bars.has_value());
    EXPECT_NEAR(bars->straight[0], 0.75F, 1e-6F);
    const auto glass = glass_of(true, 0.8, 0.1, 0.6);
    ASSERT_TRUE(glass.has_value());
    const Surface s(*glass);
    EXPECT_NEAR(s.straight_at(1.0F)[5], 0.8 * 0.9 * std::pow(10.0, -0.6), 1e-5);  // ND pdf (ISO 5)
    const auto none = glass_of(true, 0.8, 1.0, 0);
    ASSERT_TRUE(none.has_value());
    EXPECT_EQ(Surface(*none).straight_at(1.0F)[0], 0.0F);
}

}  // namespace
}  // namespace rushlight
