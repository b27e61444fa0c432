// Whether the errors that go with the readings are honest: set-ups whose light comes by rare bright ways, measured
// many times with little effort, against one long measurement.
#include "paths/small_scenes.h"

#include <array>
#include <functional>
#include <numeric>
#include <random>

namespace rushlight {
namespace {

using namespace small;

constexpr int repeats = 200;

/// How often the truth lies within one, two and three quoted errors, and how far the mean of all repeats lies off.
struct Coverage {
    int within[3] = {0, 0, 0};
    double off = 0, squares = 0;

    void add(double got, double error, double truth, double error_of_truth) {
        for (int k = 0; k < 3; ++k) within[k] += std::abs(got - truth) <= (k + 1) * std::hypot(error, error_of_truth);
        off += got - truth;
        squares += error * error;
    }
    /// Errors are quoted so that twice as much covers 95.45 % (students_widening()). Of 200 repeats 136.5, 190.9 and
    /// 199.5 should lie within one, two and three; by the binomial law these scatter by 6.6, 2.9 and .7, and fewer than
    /// here come once in some hundreds of times. All 200 within two would be errors too large: they come once in ten
    /// thousand. And no drift: the mean of all repeats is the truth to within a fifth of a quoted error, beside its own
    /// chance of a fourteenth.
    void expect_honest(const std::string& what, double error_of_truth) const {
        EXPECT_GE(within[0], repeats * 58 / 100) << what;
        EXPECT_LE(within[0], repeats * 79 / 100) << what;
        EXPECT_GE(within[1], repeats * 91 / 100) << what;
        EXPECT_LT(within[1], repeats) << what;
        EXPECT_GE(within[2], repeats * 98 / 100) << what;
        const double quoted = std::sqrt(squares / repeats);
        EXPECT_LE(std::abs(off) / repeats, 0.2 * quoted + 3 * std::hypot(quoted / std::sqrt(repeats), error_of_truth))
            << what;
    }
};

/// Every meter, the stops between the first and each other, and the mean of all as one number.
void expect_honest(const Scene& s, const std::vector<MeterPoint>& meters, double effort_error, Wanted wanted = {}) {
    const MeterResults truth = measure(s, meters, effort(0.001, 12'345), wanted);
    std::vector<std::size_t> every;
    for (std::size_t m = 0; m < meters.size(); ++m) every.push_back(m);
    std::vector<Coverage> of(meters.size()), stops(meters.size());
    Coverage mean;
    for (int i = 0; i < repeats; ++i) {
        const MeterResults r = measure(s, meters, effort(effort_error, 1000 + static_cast<std::uint64_t>(i)), wanted);
        for (std::size_t m = 0; m < meters.size(); ++m) {
            const Measured got = r.all(m), known = truth.all(m), apart = r.stops(m, 0), truly = truth.stops(m, 0);
            of[m].add(got.value, got.error, known.value, known.error);
            if (m > 0) stops[m].add(apart.value, apart.error, truly.value, truly.error);
        }
        mean.add(r.all(every).value, r.all(every).error, truth.all(every).value, truth.all(every).error);
    }
    for (std::size_t m = 0; m < meters.size(); ++m) {
        if (wanted.empty()) {
            ASSERT_LE(truth.all(m).relative_error(), 0.0013);
        }
        of[m].expect_honest("meter " + std::to_string(m), truth.all(m).error);
        if (m > 0) stops[m].expect_honest("stops to meter " + std::to_string(m), truth.stops(m, 0).error);
    }
    mean.expect_honest("mean", truth.all(every).error);
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
                   {MeterKind::dome, {2.6F, 2, 1.6F}, Vec3(0, -1, 0)},
                   {MeterKind::spot, {4.5F, 5.5F, 1.6F}, Vec3(-3.7F, -2.5F, 0).normalized(), 0.02F},
                   {MeterKind::spot, {4.5F, 5.5F, 1.6F}, Vec3(-1, -1, -0.2F).normalized(), 0.02F}},
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

// A bulb in a shade a hand's breadth from the dome: a light that no list of lights knows.
TEST(ErrorBars, BesideABulbInAShade) {
    Scene s;
    add_box(s, {5, 6, 2.8F}, matt(0.5));
    Lamp bulb = lamp(LampShape::ball, {1, 1, 1.5F}, {0, 0, -1}, 0.06, 0.06, 800);
    bulb.shade = Shade{};
    bulb.shade->finish = matt(0.4);
    bulb.shade->finish.through = Spectrum{0.35F};
    add_lamp(s, bulb);
    finish(s);
    expect_honest(s,
                  {{MeterKind::dome, {1.4F, 1.3F, 1.5F}, {0, 1, 0}},
                   {MeterKind::flat, {1.6F, 1.6F, 1.4F}, Vec3(-1, -1, 0).normalized()},
                   {MeterKind::flat, {4, 4, 1.4F}, Vec3(0, 1, 0)}},
                  0.03);
}

// Hurried: no meter gets more than its first walks. Errors are large, and cover all the same.
TEST(ErrorBars, FirstWalksAlone) {
    Scene s;
    add_box(s, {5, 6, 2.8F}, matt(0.5));
    add(s, rectangle_mesh(facing_rectangle({0.8F, 3, 1.7F}, {1, -0.2F, 0}, 0, 1.2, 1.2), matt(0.85)));
    add_lamp(s, hard_lamp({2.2F, 4.2F, 2.0F}, Vec3(-1.4F, -1.2F, -0.3F)));
    finish(s);
    expect_honest(s,
                  {{MeterKind::flat, {2.6F, 2, 1.6F}, Vec3(-1, 0.4F, 0).normalized()},
                   {MeterKind::dome, {2.6F, 2, 1.6F}, Vec3(0, -1, 0)},
                   {MeterKind::spot, {4.5F, 5.5F, 1.6F}, Vec3(-1, -1, -0.2F).normalized(), 0.02F}},
                  0.5);
}

// Many small spots of which the mean is wanted, as along the outline of a head.
TEST(ErrorBars, TheMeanOfManySpots) {
    Scene s;
    add_box(s, {5, 6, 2.8F}, matt(0.5));
    add_lamp(s, lamp(LampShape::box, {1, 1, 2}, Vec3(1, 1, -0.4F).normalized(), 0.6, 0.6, 3000));
    finish(s);
    std::vector<MeterPoint> spots;
    for (int i = 0; i < 12; ++i)
        spots.push_back(
            {MeterKind::spot, {4, 1, 1.5F}, Vec3(-0.6F + 0.1F * static_cast<float>(i), 1, 0.1F).normalized(), 0.002F});
    expect_honest(s, spots, 0.03, Wanted{{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11}});
}

// Nine spots on an even pane, each noisy: the brightest of them is as bright as the pane, where the highest number is
// not.
TEST(ErrorBars, TheBrightestDoesNotLeanUpward) {
    constexpr std::size_t spots = 9, batches = 32;
    constexpr int panes = 2000;
    std::vector<std::size_t> every(spots);
    std::iota(every.begin(), every.end(), 0);
    std::mt19937_64 chance(7);
    std::normal_distribution<double> light(1, 0.3);
    std::vector<double> brightest, highest;
    int within_two = 0;
    double one = 0;
    for (int i = 0; i < panes; ++i) {
        MeterResults pane(spots, 1);
        for (std::size_t b = 0; b < batches; ++b) {
            std::vector<Spectrum> seen(spots);
            for (Spectrum& s : seen) s = equal_energy() * static_cast<float>(light(chance));
            pane.add(seen, 1);
        }
        one = static_cast<double>(photometric(equal_energy()));
        const Measured found = pane.brightest(every);
        brightest.push_back(found.value);
        within_two += std::abs(found.value - one) <= 2 * found.error;
        double most = 0;
        for (const std::size_t m : every) most = std::max(most, pane.all(m).value);
        highest.push_back(most);
    }
    const Measured fair = mean_of(brightest), leaning = mean_of(highest);
    EXPECT_NEAR(fair.value, one, 4 * fair.error);
    EXPECT_GT(leaning.value, one + 20 * leaning.error);
    EXPECT_NEAR(within_two, 0.9545 * panes, 4 * std::sqrt(0.9545 * 0.0455 * panes));
}

// Often enough to tell a percent: meters, a dome, a spot, the stops between two sides of a face, the mean of spots as
// along an outline, and the stops from it to its background. Errors are quoted so that twice as much covers 95.45 %.
TEST(ErrorBars, CoverWhatTheyPromiseInAThousandRepeats) {
    Scene s;
    add_box(s, {5, 6, 2.8F}, matt(0.5));
    add(s, rectangle_mesh(facing_rectangle({0.8F, 3, 1.7F}, {1, -0.2F, 0}, 0, 1.2, 1.2), matt(0.85)));
    add_lamp(s, lamp(LampShape::box, {1, 1, 2}, Vec3(1, 1, -0.4F).normalized(), 0.6, 0.6, 3000));
    add_lamp(s, lamp(LampShape::ball, {4.2F, 5, 2.2F}, {0, 0, -1}, 0.2, 0.2, 800));
    finish(s);
    std::vector<MeterPoint> meters{{MeterKind::flat, {2.6F, 2, 1.6F}, Vec3(-1, 0.4F, 0).normalized()},
                                   {MeterKind::flat, {2.6F, 2, 1.6F}, Vec3(1, 0.4F, 0).normalized()},
                                   {MeterKind::dome, {2.6F, 2, 1.6F}, {0, -1, 0}},
                                   {MeterKind::spot, {4, 1, 1.5F}, Vec3(-1, 1, 0).normalized(), 0.01F}};
    const std::array<std::vector<std::size_t>, 2> outline{{{4, 5, 6, 7, 8, 9}, {10, 11, 12, 13, 14, 15}}};
    for (const float up : {0.1F, -0.4F})
        for (int i = 0; i < 6; ++i)
            meters.push_back({MeterKind::spot,
                              {4, 1, 1.5F},
                              Vec3(-0.4F + 0.1F * static_cast<float>(i), 1, up).normalized(),
                              0.002F});
    const Wanted wanted{{0}, {1}, {2}, {3}, outline[0], outline[1]};
    struct Number {
        const char* name;
        std::function<Measured(const MeterResults&)> of;
    };
    const std::vector<Number> numbers{
        {"lit side", [](const MeterResults& r) { return r.all(0); }},
        {"other side", [](const MeterResults& r) { return r.all(1); }},
        {"dome", [](const MeterResults& r) { return r.all(2); }},
        {"spot", [](const MeterResults& r) { return r.all(3); }},
        {"bulb alone, lit side", [](const MeterResults& r) { return r.of(0, 1); }},
        {"stops between the sides", [](const MeterResults& r) { return r.stops(0, 1); }},
        {"outline", [&](const MeterResults& r) { return r.all(outline[0]); }},
        {"stops to what is behind it", [&](const MeterResults& r) { return r.stops(outline[0], outline[1]); }}};
    const MeterResults truth = measure(s, meters, effort(0.0008, 12'345), wanted);
    constexpr int times = 1000;
    std::vector<Coverage> of(numbers.size());
    for (int i = 0; i < times; ++i) {
        const MeterResults r = measure(s, meters, effort(0.1, 5000 + static_cast<std::uint64_t>(i)), wanted);
        for (std::size_t n = 0; n < numbers.size(); ++n) {
            const Measured got = numbers[n].of(r), known = numbers[n].of(truth);
            of[n].add(got.value, got.error, known.value, known.error);
        }
    }
    for (std::size_t n = 0; n < numbers.size(); ++n) {
        const double promised[] = {0.683, 0.954, 0.997};
        for (int k = 0; k < 3; ++k) {
            const double share = of[n].within[k] / static_cast<double>(times);
            const double chance = std::sqrt(promised[k] * (1 - promised[k]) / times);
            EXPECT_NEAR(share, promised[k], 0.01 + 3 * chance) << numbers[n].name << ", within " << k + 1;
        }
        const double quoted = std::sqrt(of[n].squares / times), unsure = numbers[n].of(truth).error;
        EXPECT_LE(std::abs(of[n].off) / times, 0.1 * quoted + 3 * std::hypot(quoted / std::sqrt(times), unsure))
            << numbers[n].name;
    }
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
