#include "results/day/sun_window.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

/// How far a set-up has left its plan, 1 at the edge of what is allowed, and by what.
struct Off {
    double share = 0;
    std::string by;
};

void worse(Off& off, double share, const std::string& by) {
    if (std::isfinite(share) && share <= off.share) return;
    off = {std::isfinite(share) ? share : 1e9, by};
}

Off off_plan(const WeatherCourse& course, std::size_t hour, std::size_t plan) {
    const bool any = std::any_of(course.faces.begin(), course.faces.end(), [](const auto& f) { return f.in_frame; });
    Off off;
    for (const FaceCourse& f : course.faces) {
        if (any && !f.in_frame) continue;
        worse(off, std::abs(f.level[hour].value) / window_stops, "level at " + f.mark);
        worse(off, std::abs(f.key_fill[hour].value - f.key_fill[plan].value) / window_stops,
              "key to fill of " + f.mark);
        worse(off, std::abs(f.kelvin[hour] - f.kelvin[plan]) / window_kelvin, "colour at " + f.mark);
    }
    // Nobody there: the meters placed by hand.
    if (course.faces.empty())
        for (const MeterCourse& m : course.meters) {
            worse(off, std::abs(std::log2(m.lux[hour].value / m.lux[plan].value)) / window_stops, m.name);
            worse(off, std::abs(m.kelvin[hour] - m.kelvin[plan]) / window_kelvin, "colour at " + m.name);
        }
    return off;
}

/// When, between two hours, the edge is crossed: when the sun comes or goes, else as a straight line has it.
double crossing(const DayCourse& day, std::size_t before, const Off& first, const Off& then, bool sun) {
    const double from = day.clock[before];
    const double to = day.clock[before + 1];
    if (sun)
        for (const SunOn& s : day.sun_on)
            for (const Interval& i : s.when)
                for (const double edge : {i.from, i.to})
                    if (!s.mark.empty() && edge > from && edge < to) return edge;
    const double step = then.share - first.share;
    return std::clamp(from + (to - from) * (1 - first.share) / step, from, to);
}

}  // namespace

void find_sun_windows(const DayCourse& day, WeatherCourse& course) {
    if (course.faces.empty() && course.meters.empty()) return;
    std::vector<Off> off;
    for (std::size_t h = 0; h < day.clock.size(); ++h) off.push_back(off_plan(course, h, day.plan));
    for (const Off& o : off) course.off.push_back(o.share);
    const bool sun = course.weather != Weather::overcast;
    bool inside = off.front().share <= 1;
    double since = day.clock.front();
    const auto close = [&](double at, const std::string& by) {
        course.holds.push_back({since, at});
        if (day.clock[day.plan] < since - 1e-6 || day.clock[day.plan] > at + 1e-6) return;
        course.around_plan = course.holds.back();
        course.first_to_go = by;
    };
    for (std::size_t h = 0; h + 1 < day.clock.size(); ++h) {
        const bool next = off[h + 1].share <= 1;
        if (next == inside) continue;
        const double at = crossing(day, h, off[h], off[h + 1], sun);
        if (inside)
            close(at, off[h + 1].by);
        else
            since = at;
        inside = next;
    }
    if (inside) close(day.clock.back(), "");
}

}  // namespace rushlight
