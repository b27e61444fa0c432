// What glasses mirror into the lens, against traced spots and the law of the mirror.
#include "results/glint/glasses_glare.h"
#include "results/rooms.h"

#include "paths/measure.h"
#include "paths/small_scenes.h"

namespace rushlight {
namespace {

const std::string dark_room = R"(
[place]
room = { width = 6, depth = 4, height = 3 }
surfaces = { walls = 0.01, floor = 0.01, ceiling = 0.01 }
[day]
dark = true
[[mark]]
name = "A"
at = [2, 2]
facing = [5, 2]
person = { hair = "bald", skin = 0.2, glasses = "wire" }
[[camera]]
name = "close"
at = [4, 2, 1.6]
look_at = "A"
lens = 50
)";

constexpr double lumen = 800, side = 0.5;

/// With a soft box where the left lens shows it to the camera in its middle, turned away by `off` degrees sideways.
Setup with_box(double off = 0, Lenses lenses = Lenses::plain, float camera_height = 1.6F) {
    Setup s = rooms::setup_of(dark_room);
    s.rig.cameras[0].at.z = camera_height;
    const SpectacleLens lens = stand_in(s.rig.marks[0]).spectacles->at(0);
    const Vec3 middle = lens.at(lens.out), sight = (s.its_camera()->at - middle).normalized();
    Vec3 toward = lens.out * (2 * lens.out.dot(sight)) - sight;
    const auto c = static_cast<float>(std::cos(off * pi / 180)), n = static_cast<float>(std::sin(off * pi / 180));
    toward = {toward.x * c - toward.y * n, toward.x * n + toward.y * c, toward.z};
    Lamp box = small::lamp(LampShape::box, middle + toward * 1.2F, -toward, side, side, lumen);
    box.name = "box";
    s.rig.lamps.push_back(box);
    s.rig.marks[0].person.lenses = lenses;
    return s;
}

struct Found {
    Scene scene;
    PersonReadings person;
};
Found find(const Setup& s, double skin) {
    Found f{build_scene(s), {}};
    f.person.mark = "A";
    const CameraView view(*s.its_camera(), 1600, 900);
    find_glare(f.scene, view, s.rig.marks[0].person, 0, skin, rooms::effort(0.1), f.person);
    return f;
}

/// Luminance of the middle of the left lens, traced from the camera.
Measured traced(const Setup& s, const SpectacleLens& lens) {
    const Scene scene = build_scene(s);
    const Vec3 from = s.its_camera()->at, way = lens.at(lens.out) - from;
    const MeterPoint spot{MeterKind::spot, from, way.normalized(), 0.001F / way.length()};
    return measure(scene, {spot}, rooms::effort(0.01)).all(0);
}

// A box of `lumen` over its face is lumen / (pi A) cd/m2 (Lambert); the pane mirrors 7.7 % of that. What shows behind
// the glass is taken off by the same spot with nothing in the rims, which the glass dims on the way in and out.
TEST(GlassesGlare, IsWhatIsTraced) {
    const auto plain = with_box(), empty = with_box(0, Lenses::empty);
    const double luminance = lumen / (pi * side * side);
    const Found f = find(plain, 10);
    ASSERT_TRUE(f.person.glasses_seen);
    ASSERT_EQ(f.person.glasses_glare.size(), 1U);
    const GlassesGlare& g = f.person.glasses_glare[0];
    EXPECT_EQ(g.source, "box");
    EXPECT_EQ(g.by, "box");
    EXPECT_GT(g.share, 0.05);
    EXPECT_LT(g.share, 0.9);

    const SpectacleLens& lens = f.scene.figures[0].spectacles->at(0);
    const Vec3 sight = (plain.its_camera()->at - lens.at(lens.out)).normalized();
    const Finish glass = glass_of_lens(Lenses::plain);
    const PaneShares shares = pane_shares(lens.out.dot(sight), glass.pane_index, glass.pane_transmittance);
    const double expected = luminance * static_cast<double>(shares.reflected);
    EXPECT_NEAR(g.over_skin, std::log2(expected / 10), 0.05);
    const Measured seen = traced(plain, lens), behind = traced(empty, lens);
    const double through = static_cast<double>(shares.transmitted) * static_cast<double>(shares.transmitted);
    EXPECT_LT(behind.value, 0.3 * expected) << "too bright behind the glass to prove anything";
    EXPECT_NEAR(seen.value - through * behind.value, expected,
                0.02 * expected + 4 * std::hypot(seen.error, through * behind.error));
}

// A mirror that turns by an angle turns what it shows by twice that. The lens of +-11.5 degrees shows +-23 and the box
// reaches 12 to each side: 45 degrees off nothing is left of it.
TEST(GlassesGlare, IsGoneWhereTheMirrorPointsElsewhere) {
    for (const double off : {45.0, -60.0}) {
        const Found f = find(with_box(off), 10);
        EXPECT_TRUE(f.person.glasses_seen);
        for (const GlassesGlare& g : f.person.glasses_glare) EXPECT_FALSE(glares(g)) << off << " " << g.by;
        EXPECT_EQ(glare_remark(f.person), "");
    }
}

TEST(GlassesGlare, TiltThatIsAdvisedClearsIt) {
    // The camera stands high, and the box higher than where it shows in the middle: a small lean brings it out.
    auto s = with_box(0, Lenses::plain, 2.2F);
    s.rig.lamps[0].at.z += 0.35F;
    const Found before = find(s, 10);
    ASSERT_FALSE(before.person.glasses_glare.empty());
    ASSERT_TRUE(glares(before.person.glasses_glare[0]));
    const double tilt = before.person.glasses_glare[0].tilt;
    ASSERT_GT(tilt, 0);
    EXPECT_NE(glare_remark(before.person).find("box"), std::string::npos);
    s.rig.marks[0].head_tilt = -tilt;
    const Found after = find(s, 10);
    for (const GlassesGlare& g : after.person.glasses_glare) EXPECT_FALSE(glares(g)) << g.over_skin;
}

TEST(GlassesGlare, CoatTakesItsShareAndEmptyRimsAllOfIt) {
    const Found plain = find(with_box(), 3), coated = find(with_box(0, Lenses::coated), 3),
                empty = find(with_box(0, Lenses::empty), 3);
    ASSERT_FALSE(plain.person.glasses_glare.empty());
    ASSERT_FALSE(coated.person.glasses_glare.empty());
    // 7.7 % to 1 %: 2.9 stops.
    EXPECT_NEAR(plain.person.glasses_glare[0].over_skin - coated.person.glasses_glare[0].over_skin, 2.94, 0.1);
    EXPECT_FALSE(empty.person.glasses_seen);
}

}  // namespace
}  // namespace rushlight
