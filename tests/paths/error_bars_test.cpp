// Whether the errors that go with the readings are honest: set-ups whose light comes by rare bright ways, measured
// many times with little effort, against one long measurement.
#include "paths/small_scenes.h"

namespace rushlight {
namespace {

using namespace small;

constexpr int repeats = 200;

/// Share of the repeats in which the truth lies within two quoted errors. With errors that are right and near normal
/// it is 94 to 95 % (Student's distribution of 20 and more batches); the count of 200 repeats then scatters by 1.6 %
/// (binomial), so that fewer than 90 % would come once in two hundred times, and all 200 never.
void expect_honest(const Scene& s, const std::vector<MeterPoint>& meters, double effort_error) {
    const MeterResults truth = measure(s, meters, effort(0.001, 12'345));
    std::vector<int> within(meters.size());
    std::vector<double> sum(meters.size()), errors(meters.size());
    for (int i = 0; i < repeats; ++i) {
        const MeterResults r = measure(s, meters, effort(effort_error, 1000 + static_cast<std::uint64_t>(i)));
        for (std::size_t m = 0; m < meters.size(); ++m) {
            const Measured got = r.all(m);
            within[m] += std::abs(got.value - truth.all(m).value) <= 2 * std::hypot(got.error, truth.all(m).error);
            sum[m] += got.value;
            errors[m] += got.error * got.error;
        }
    }
    for (std::size_t m = 0; m < meters.size(); ++m) {
        ASSERT_LE(truth.all(m).relative_error(), 0.001);
        EXPECT_GE(within[m], repeats * 90 / 100) << "meter " << m;
        EXPECT_LE(within[m], repeats * 99 / 100) << "meter " << m;  // errors too large are not honest either
        // And no drift: the mean of all repeats is the truth. An error small by luck may end a measurement early, which
        // favours dark ones by a part of the quoted error: a tenth of it at most.
        const double mean = sum[m] / repeats, error = std::sqrt(errors[m]) / repeats,
                     quoted = std::sqrt(errors[m] / repeats);
        EXPECT_NEAR(mean, truth.all(m).value, 4 * std::hypot(error, truth.all(m).error) + 0.1 * quoted)
            << "meter " << m;
    }
}

Lamp hard_lamp(Vec3 at, Vec3 aim) {
    Lamp l = lamp(LampShape::hard, at, aim.normalized(), 0.15, 0.15, 5000);
    l.beam = 30;
    l.field = 45;
    return l;
}

// A key that is bounce only: the lamp looks away from the face, at a board.
TEST(ErrorBars, HardLampOnABoard) {
    Scene s;
    add_box(s, {5, 6, 2.8F}, matt(0.3));
    add(s, rectangle_mesh(facing_rectangle({0.8F, 3, 1.7F}, {1, -0.2F, 0}, 0, 1.2, 1.2), matt(0.85)));
    add_lamp(s, hard_lamp({2.2F, 4.2F, 2.0F}, Vec3(-1.4F, -1.2F, -0.3F)));
    finish(s);
    expect_honest(s,
                  {{MeterKind::flat, {2.6F, 2, 1.6F}, Vec3(-1, 0.4F, 0).normalized()},
                   {MeterKind::dome, {2.6F, 2, 1.6F}, Vec3(0, -1, 0)}},
                  0.03);
}

// A hard lamp through a cloth.
TEST(ErrorBars, HardLampThroughACloth) {
    Scene s;
    add_box(s, {5, 6, 2.8F}, matt(0.3));
    Finish cloth = matt(0.3);
    cloth.through = Spectrum{0.4F};
    cloth.straight = Spectrum{0.1F};
    add(s, rectangle_mesh(facing_rectangle({1.2F, 3, 1.7F}, {1, 0, 0}, 0, 1.2, 1.2), cloth));
    add_lamp(s, hard_lamp({0.3F, 3, 1.8F}, {1, 0, 0}));
    finish(s);
    expect_honest(s, {{MeterKind::flat, {3, 3.2F, 1.6F}, {-1, 0, 0}}, {MeterKind::flat, {3, 3.2F, 1.6F}, {1, 0, 0}}},
                  0.03);
}

// The worst of skew: the lamp lights a patch of a dark room that is seen only by way of another wall.
TEST(ErrorBars, PatchRoundACorner) {
    Scene s;
    add_box(s, {5, 6, 2.8F}, matt(0.4));
    add(s, rectangle_mesh(facing_rectangle({2.5F, 4, 1.4F}, {0, 1, 0}, 0, 3.4, 2.8), matt(0.1)));
    Lamp l = hard_lamp({2.5F, 5.5F, 2.4F}, {-0.3F, -0.2F, -1});
    l.beam = 10;
    l.field = 15;
    add_lamp(s, l);
    finish(s);
    expect_honest(s, {{MeterKind::flat, {2.5F, 1.5F, 1.2F}, {0, 1, 0}}}, 0.05);
}

}  // namespace
}  // namespace rushlight
