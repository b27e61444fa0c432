// Hours put together from one trace, against hours traced by themselves.
#include "results/day/traced_day.h"
#include "results/sheet/face_meters.h"
#include "setup/read/setup_file.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace rushlight {
namespace {

Setup workshop(double hours) {
    Setup s = SetupFile::read(std::string(RUSHLIGHT_SOURCE) + "/scenes/workshop.toml").setup("1 wide", "sun out");
    s.day.clock_hours = hours;
    return s;
}

std::vector<MeterPoint> points_of(const Setup& s, const Scene& scene) {
    std::vector<MeterPoint> points;
    for (const PlacedMeter& m : place_meters(s, scene)) points.push_back(m.point);
    return points;
}

Effort effort(double error, std::uint64_t seed) {
    Effort e;
    e.relative_error = error;
    e.seed = seed;
    return e;
}

// The same meters, once from the patches of sky and the sun of that hour, once traced afresh. What is left between them
// is chance, and what the sky changes within one patch: with these 16 rings within 1 % (docs/daylight.md).
TEST(TracedDay, AgreesWithHoursTracedAlone) {
    const std::vector<double> clock{8.5, 9.75, 11.0 + 1.0 / 3};
    const rushlight::Setup s = workshop(clock[2]);
    Scene scene = build_scene(s);
    const auto meters = points_of(s, scene);
    const TracedDay day(s, scene, meters, {}, clock, effort(0.02, 3));
    for (std::size_t h = 0; h < clock.size(); ++h) {
        const rushlight::Setup then = workshop(clock[h]);
        const MeterResults alone = measure(build_scene(then), meters, effort(0.015, 9));
        const auto together = day.taken(h, outside_at(s, Weather::clear, clock[h]));
        for (std::size_t m = 0; m < meters.size(); ++m) {
            const Measured a = together.amount[m].measured(), b = alone.all(m);
            EXPECT_LT(a.relative_error(), 0.06) << "too noisy to prove anything";
            EXPECT_NEAR(a.value, b.value, 4 * std::hypot(a.error, b.error) + 0.01 * b.value)
                << "hour " << clock[h] << ", meter " << m;
        }
    }
}

// Errors of two hours have their sky in common: the difference is surer than either.
TEST(TracedDay, HoursShareTheirErrors) {
    const std::vector<double> clock{14, 15};
    rushlight::Setup s = workshop(14);
    Scene scene = build_scene(s);
    const auto meters = points_of(s, scene);
    const TracedDay day(s, scene, meters, {}, clock, effort(0.03, 5));
    const auto first = day.taken(0, outside_at(s, Weather::overcast, 14));
    const auto second = day.taken(1, outside_at(s, Weather::overcast, 15));
    for (std::size_t m = 0; m < meters.size(); ++m) {
        const Measured change = difference(stops_of(second.amount[m]), stops_of(first.amount[m]));
        EXPECT_LT(change.error, 0.1 * stops_of(first.amount[m]).error());
        // An overcast sky keeps its shape and loses light: IES practice, .3 + 21 sin h klx.
        const auto lux = [&](double hour) { return outside_at(s, Weather::overcast, hour).sky_horizontal.value; };
        EXPECT_NEAR(change.value, std::log2(lux(15) / lux(14)), 0.002);
    }
}

TEST(TracedDay, PatchesCoverTheSky) {
    const SkyPatches patches(16);
    // A patch's mean times its solid angle, weighed by the sine of its height, adds up to the sky's illuminance.
    rushlight::Setup s = workshop(11);
    const Daylight clear = outside_at(s, Weather::clear, 11);
    const auto means = patches.relative_luminance(clear);
    ASSERT_EQ(means.size(), patches.count());
    std::vector<double> weight(patches.count(), 0.0), area(patches.count(), 0.0);
    constexpr int up = 400, round = 1600;
    for (int i = 0; i < up; ++i)
        for (int j = 0; j < round; ++j) {
            const double z = (i + 0.5) / up, a = 2 * pi * (j + 0.5) / round, r = std::sqrt(1 - z * z);
            const std::size_t p = patches.of(
                {static_cast<float>(r * std::cos(a)), static_cast<float>(r * std::sin(a)), static_cast<float>(z)});
            ASSERT_LT(p, patches.count());
            weight[p] += z * 2 * pi / (up * round);
            area[p] += 2 * pi / (up * round);
        }
    double sum = 0;
    for (std::size_t p = 0; p < means.size(); ++p) sum += static_cast<double>(means[p]) * weight[p];
    // ISO 15469:2004, by quadrature (checked against a table in sky_test.cpp).
    EXPECT_NEAR(sum, GeneralSky(12, clear.toward_sun).horizontal_over_zenith(), 0.005 * sum);
    // No patch is more than twice as large as another.
    const auto [least, most] = std::minmax_element(area.begin(), area.end());
    EXPECT_LT(*most, 2 * *least);
}

}  // namespace
}  // namespace rushlight
