// Light by rare bright ways: the sun by small mirrors, by mirrors in a row, by a bent one. Whatever effort is asked
// for, no reading is sure of light that no walk has met, and quoted errors cover what there is.
//
// RUSHLIGHT_SEEDS=40 measures each case with so many seeds.
#include "outside_by_hand.h"
#include "paths/room_with_window.h"

#include <array>
#include <cstdlib>
#include <iostream>

namespace rushlight {
namespace {

using namespace small;

constexpr double sun_lux = 80'000;
const Vec3 sun = Vec3(0.5F, -0.6F, 0.62F).normalized();

Finish silvered(double share = 0.88) {
    Finish f = matt(0);
    f.metal = Spectrum{static_cast<float>(share)};
    f.roughness = 0;
    return f;
}
/// Schlick's rise (1994), which bare metal has here.
double mirrored(const Vec3& normal, const Vec3& way, double share = 0.88) {
    const auto cosine = static_cast<double>(std::abs(normal.dot(way)));
    return share + (1 - share) * std::pow(1 - cosine, 5);
}

struct HardToFind {
    Scene scene;
    MeterPoint meter;
    double truth = 0, unsure = 0;  // lx
};

/// A square mirror that sends light from `from` on to `to`, which is what it gives in the sun.
double add_mirror(Scene& s, const Vec3& at, const Vec3& from, const Vec3& to, double size,
                  const Finish& finish = silvered()) {
    const Vec3 away = (to - at).normalized(), normal = (from + away).normalized();
    add(s, rectangle_mesh(facing_rectangle(at, normal, 0, size, size), finish));
    return mirrored(normal, from);
}
void add_outside(Scene& s, double sky, double ground, const std::shared_ptr<Openings>& openings) {
    const Daylight d = by_hand::outside(sky, ground, sun_lux, sun);
    s.lights.add("sun", SunLight(d, openings));
    if (sky > 0) s.lights.add("sky", SkyLight(d, openings));
    if (!openings->rectangles.empty()) s.openings = s.holes = openings;
    finish(s);
}
HardToFind long_run(HardToFind h) {
    const Measured sure = measure(h.scene, {h.meter}, effort(0.0005, 999)).all(0);
    h.truth = sure.value;
    h.unsure = sure.error;
    return h;
}
MeterPoint facing(const Vec3& at, const Vec3& what) {
    return {MeterKind::flat, at, (what - at).normalized()};
}

HardToFind by_a_mirror_alone() {
    HardToFind h;
    const Vec3 face(0, 0, 1.5F), mirror(0, 2, 1.5F);
    h.truth = sun_lux * add_mirror(h.scene, mirror, sun, face, 0.3);
    h.meter = facing(face, mirror);
    add_outside(h.scene, 0, 0, std::make_shared<Openings>());
    return h;
}
HardToFind by_hard_silver_alone() {
    HardToFind h;
    const Vec3 face(0, 0, 1.5F), board(0, 2, 1.5F);
    Finish silver = silvered(0.82);
    silver.roughness = 0.03;
    add_mirror(h.scene, board, sun, face, 0.3, silver);
    h.meter = facing(face, board);
    add_outside(h.scene, 0, 0, std::make_shared<Openings>());
    return long_run(std::move(h));
}
HardToFind by_a_mirror_under_the_sky() {
    HardToFind h;
    const Vec3 face(0, 0, 1.5F), mirror(0, 2, 1.5F);
    add_mirror(h.scene, mirror, sun, face, 0.3);
    h.meter = facing(face, mirror);
    add_outside(h.scene, 4000, 1000, std::make_shared<Openings>());
    return long_run(std::move(h));
}
Room sunny_room() {
    Room r;
    r.width = 4;
    r.depth = 6.5;
    r.height = 2.8;
    r.finish.fill(matt(0.5));
    return r;
}
/// Outside the window, which throws the sun on a face deep in the room.
HardToFind by_a_mirror_outside() {
    HardToFind h;
    const auto openings = add_room_with_window(h.scene, sunny_room());
    openings->upper = {4, 6.5F, 2.8F};
    const Vec3 face(1.8F, 4.4F, 1.4F), mirror(1.5F, -1.6F, 1.6F);
    add_mirror(h.scene, mirror, sun, face, 0.3);
    h.meter = facing(face, mirror);
    add_outside(h.scene, 4000, 1000, openings);
    return long_run(std::move(h));
}
/// In the beam that falls in by the window.
HardToFind by_a_small_mirror_in_the_beam() {
    HardToFind h;
    const auto openings = add_room_with_window(h.scene, sunny_room());
    openings->upper = {4, 6.5F, 2.8F};
    const Vec3 window(1.6F, 0, 1.5F), mirror = window - sun * 1.6F, face = mirror + Vec3(1, 2.2F, 0.6F);
    add_mirror(h.scene, mirror, sun, face, 0.1);
    h.meter = facing(face, mirror);
    add_outside(h.scene, 4000, 1000, openings);
    return long_run(std::move(h));
}
/// One mirror throws it on another.
HardToFind by_two_mirrors() {
    HardToFind h;
    const Vec3 first(3, 3, 2), second(0, 2, 1.5F), face(0, 0, 1.5F);
    const Vec3 between = (first - second).normalized();
    h.truth = sun_lux * add_mirror(h.scene, first, sun, second, 0.5);
    h.truth *= add_mirror(h.scene, second, between, face, 0.3);
    h.meter = facing(face, second);
    add_outside(h.scene, 0, 0, std::make_shared<Openings>());
    return h;
}
/// Of so many flat mirrors that no list holds them all, the last that was put up.
HardToFind by_one_of_many_mirrors() {
    HardToFind h;
    for (int i = 0; i < 120; ++i)
        add(h.scene,
            rectangle_mesh(facing_rectangle({-6 + 0.1F * static_cast<float>(i), -3, 1}, {0, 0, 1}, 0, 0.05, 0.05),
                           silvered()));
    const Vec3 face(0, 0, 1.5F), mirror(0, 2, 1.5F);
    h.truth = sun_lux * add_mirror(h.scene, mirror, sun, face, 0.3);
    h.meter = facing(face, mirror);
    add_outside(h.scene, 0, 0, std::make_shared<Openings>());
    return h;
}

/// Three in a row.
HardToFind by_three_mirrors() {
    HardToFind h;
    const Vec3 first(3, 3, 2), second(0, 2, 1.5F), third(0.5F, 0.3F, 1.2F), face(2, -1, 1.5F);
    h.truth = sun_lux * add_mirror(h.scene, first, sun, second, 0.5);
    h.truth *= add_mirror(h.scene, second, (first - second).normalized(), third, 0.4);
    h.truth *= add_mirror(h.scene, third, (second - third).normalized(), face, 0.3);
    h.meter = facing(face, third);
    add_outside(h.scene, 0, 0, std::make_shared<Openings>());
    return h;
}
/// Bent: thirty small flat faces of one body, each of which throws the sun on the face.
HardToFind by_a_bent_mirror() {
    HardToFind h;
    Mesh bent;
    bent.finish = silvered();
    const Vec3 face(0, 0, 1.5F);
    for (int i = 0; i < 30; ++i) {
        const float a = 0.055F * static_cast<float>(i) - 0.8F;
        const Vec3 at(2.5F * std::sin(a), 2.5F * std::cos(a), 1.5F), away = (face - at).normalized();
        const Vec3 normal = (sun + away).normalized();
        const Mesh flat = rectangle_mesh(facing_rectangle(at, normal, 0, 0.04, 0.2), bent.finish);
        const auto first = static_cast<std::uint32_t>(bent.positions.size());
        bent.positions.insert(bent.positions.end(), flat.positions.begin(), flat.positions.end());
        for (const auto& t : flat.triangles) bent.triangles.push_back({first + t[0], first + t[1], first + t[2]});
        h.truth += sun_lux * mirrored(normal, sun) * static_cast<double>(-away.y);
    }
    add(h.scene, bent);
    h.meter = {MeterKind::flat, face, {0, 1, 0}};
    add_outside(h.scene, 0, 0, std::make_shared<Openings>());
    return h;
}
/// A bulb by two mirrors: it stands as far off as the whole way is long.
HardToFind a_bulb_by_two_mirrors() {
    HardToFind h;
    const Vec3 bulb(3, 0, 1.5F), first(3, 2.5F, 1.5F), second(0, 2, 1.5F), face(0, 0, 1.5F);
    const double share = add_mirror(h.scene, first, (bulb - first).normalized(), second, 1) *
                         add_mirror(h.scene, second, (first - second).normalized(), face, 1);
    const double away =
        static_cast<double>((first - bulb).length() + (second - first).length() + (face - second).length());
    add(h.scene, rectangle_mesh(facing_rectangle({1.5F, 0, 1.5F}, {1, 0, 0}, 0, 1, 1), matt(0)));
    add_lamp(h.scene, lamp(LampShape::ball, bulb, {0, 0, -1}, 0.1, 0.1, 4 * pi * 1000));
    h.truth = share * 1000 / (away * away);
    h.meter = facing(face, second);
    finish(h.scene);
    return h;
}

struct Hard {
    const char* name;
    HardToFind (*make)();
};
void PrintTo(const Hard& h, std::ostream* out) {
    *out << h.name;
}

/// Fewer of so many than this are seen once in ten thousand times, if each comes with that chance (binomial law).
int fewest_of(int times, double chance) {
    double term = std::pow(1 - chance, times), below = 0;
    int k = 0;
    for (; k < times && below + term < 1e-4; ++k) {
        below += term;
        term *= static_cast<double>(times - k) / (k + 1) * chance / (1 - chance);
    }
    return k;
}

class FoundAnyhow : public testing::TestWithParam<Hard> {};

TEST_P(FoundAnyhow, AtAnyEffort) {
    const char* asked = std::getenv("RUSHLIGHT_SEEDS");
    const int seeds = asked != nullptr ? std::atoi(asked) : 12;
    const HardToFind h = GetParam().make();
    ASSERT_GT(h.truth, 0);
    ASSERT_LT(h.unsure, 0.001 * h.truth);
    for (const double error : {0.05, 0.02, 0.01}) {
        int within[4] = {0, 0, 0, 0};
        double off = 0, squares = 0;
        for (int i = 0; i < seeds; ++i) {
            const MeterResults r = measure(h.scene, {h.meter}, effort(error, 1000 + static_cast<std::uint64_t>(i)));
            const Measured got = r.all(0);
            EXPECT_LT(got.error, 1.6 * error * h.truth) << "seed " << i;
            // Where no chance is in it, single precision is.
            const double allowed = std::hypot(got.error, h.unsure, 5e-5 * h.truth);
            for (int k = 0; k < 4; ++k) within[k] += std::abs(got.value - h.truth) <= (k + 1) * allowed;
            off += (got.value - h.truth) / seeds;
            squares += allowed * allowed / seeds;
        }
        // By the binomial law .683 and .954 of so many scatter by this, and four times as much is never seen.
        const auto least = [&](double share) { return seeds * share - 4 * std::sqrt(seeds * share * (1 - share)); };
        EXPECT_GE(within[0], least(0.683)) << error;
        EXPECT_GE(within[1], least(0.954)) << error;
        // Far out the law of an error told by 32 batches counts: Student's t, 31 degrees of freedom.
        EXPECT_GE(within[2], fewest_of(seeds, 0.9947)) << error;
        EXPECT_EQ(within[3], seeds) << error;
        EXPECT_LE(std::abs(off), 4 * std::sqrt(squares / seeds) + h.unsure) << error;
        if (asked != nullptr)
            std::cout << GetParam().name << ", " << 100 * error << " %: " << within[0] << " " << within[1] << " "
                      << within[2] << " of " << seeds << ", mean off by " << off / std::sqrt(squares) << " errors\n";
    }
}

INSTANTIATE_TEST_SUITE_P(
    HardToFind, FoundAnyhow,
    testing::Values(Hard{"AMirrorAlone", by_a_mirror_alone}, Hard{"HardSilver", by_hard_silver_alone},
                    Hard{"AMirrorUnderTheSky", by_a_mirror_under_the_sky}, Hard{"AMirrorOutside", by_a_mirror_outside},
                    Hard{"ASmallMirrorInTheBeam", by_a_small_mirror_in_the_beam}, Hard{"TwoMirrors", by_two_mirrors},
                    Hard{"OneOfManyMirrors", by_one_of_many_mirrors}, Hard{"ThreeMirrors", by_three_mirrors},
                    Hard{"ABentMirror", by_a_bent_mirror}, Hard{"ABulbByTwoMirrors", a_bulb_by_two_mirrors}),
    [](const auto& p) { return std::string(p.param.name); });

/// A shut cabinet, white inside, with a bright bulb in it. Where two panels cross, rounding lets a walk in a million
/// slip past: a black crate stands round it.
Scene lit_cabinet() {
    Scene s;
    const auto shut = [&](float half, double reflectance) {
        constexpr double past_corners = 1.02;
        const double side = 2 * static_cast<double>(half) * past_corners;
        for (const float x : {-1.0F, 1.0F})
            for (int axis = 0; axis < 3; ++axis) {
                Vec3 normal(0);
                normal[axis] = x;
                add(s, rectangle_mesh(facing_rectangle(Vec3(0, 0, 1) + normal * half, normal, 0, side, side),
                                      matt(reflectance)));
            }
    };
    shut(0.5F, 0.8);
    shut(0.8F, 0);
    add_lamp(s, lamp(LampShape::ball, {0.2F, 0.2F, 1.3F}, {0, 0, -1}, 0.1, 0.1, 10'000));
    finish(s);
    return s;
}

// Light is about, and none of it gets to the meter as far as anybody has seen. The rule of three: after n walks that
// met nothing, one in n may.
TEST(HardToFind, NoZeroIsSureWhereLightMayBe) {
    const MeterPoint outside{MeterKind::flat, {0, -2.5F, 1}, {0, 1, 0}};
    const Scene shut = lit_cabinet();
    for (const double error : {0.05, 0.01}) {
        const Measured none = measure(shut, {outside}, effort(error)).all(0);
        EXPECT_EQ(none.value, 0);
        EXPECT_GT(none.error, 0);
        EXPECT_LT(none.error, 1.2 * error) << "surer than that nobody has to be: " << error << " of a lux";
    }
    // A lamp that is off, and no lamp, are dark for sure.
    Scene off;
    add_box(off, {3, 3, 2.5F}, matt(0.5));
    add_lamp(off, lamp(LampShape::ball, {1, 1, 2}, {0, 0, -1}, 0.1, 0.1, 0));
    finish(off);
    const Measured dark = measure(off, {{MeterKind::flat, {2, 2, 1}, {0, 0, 1}}}, effort(0.01)).all(0);
    EXPECT_EQ(dark.value, 0);
    EXPECT_EQ(dark.error, 0);
}

}  // namespace
}  // namespace rushlight
