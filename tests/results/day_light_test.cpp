// Hours put together from one trace, against hours traced by themselves.
#include "results/day_light.h"
#include "results/placed_meters.h"
#include "setup/setup_file.h"

#include <gtest/gtest.h>

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

TEST(DayLight, Trial) {
    std::vector<double> clock;
    for (int i = 0; i <= 72; ++i) clock.push_back(7 + i / 6.0);
    const rushlight::Setup s = workshop(8.5);
    Scene scene = build_scene(s);
    const auto meters = points_of(s, scene);
    const DayLight day(s, scene, meters, {}, clock, effort(0.02, 3), 16);
    printf("%.2f s\n", day.seconds());
    std::vector<double> errors;
    for (std::size_t h = 0; h < clock.size(); ++h)
        for (const Varied& v : day.taken(h, outside_at(s, Weather::clear, clock[h])).amount)
            errors.push_back(v.error() / v.value);
    std::sort(errors.begin(), errors.end());
    printf("errors %.4f %.4f %.4f %.4f\n", errors[errors.size() / 2], errors[errors.size() * 9 / 10],
           errors[errors.size() * 99 / 100], errors.back());
    double all = 0;
    for (double h : {8.0, 9.5, 10.5, 11.0, 12.0, 13.0, 14.5, 16.0}) {
        const rushlight::Setup then = workshop(h);
        const Scene fresh = build_scene(then);
        const auto r = measure(fresh, meters, effort(atof(getenv("ERR")), 9));
        std::vector<double> es;
        for (std::size_t m = 0; m < meters.size(); ++m) es.push_back(r.all(m).relative_error());
        std::sort(es.begin(), es.end());
        printf("%.2f (%.4f %.4f) ", r.seconds, es[es.size() / 2], es.back());
        all += r.seconds / 8;
    }
    printf("ratio %.2f\n", day.seconds() / all);
}

}  // namespace
}  // namespace rushlight
