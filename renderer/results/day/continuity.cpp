#include "results/day/continuity.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

const WeatherCourse* under(const DayCourse& day, Weather weather) {
    for (const WeatherCourse& w : day.weathers)
        if (w.weather == weather) return &w;
    return nullptr;
}

std::size_t nearest(const std::vector<double>& clock, double time) {
    std::size_t best = 0;
    for (std::size_t i = 0; i < clock.size(); ++i)
        if (std::abs(clock[i] - time) < std::abs(clock[best] - time)) best = i;
    return best;
}

const MeterCourse* meter(const WeatherCourse& w, const std::string& name) {
    for (const MeterCourse& m : w.meters)
        if (m.name == name) return &m;
    return nullptr;
}

/// The two cheeks in stops, brighter over darker: near and far change places with the lens.
double cheeks(const WeatherCourse& w, const std::string& mark, std::size_t hour) {
    const MeterCourse* near = meter(w, mark + " near cheek");
    const MeterCourse* far = meter(w, mark + " far cheek");
    if (near == nullptr || far == nullptr) return NAN;
    return std::abs(std::log2(near->lux[hour].value / far->lux[hour].value));
}

}  // namespace

std::vector<Mismatch> mismatches(const std::vector<DayCourse>& days, Weather weather,
                                 const std::vector<double>& times) {
    std::vector<Mismatch> found;
    for (std::size_t a = 0; a < days.size(); ++a)
        for (std::size_t b = a + 1; b < days.size(); ++b) {
            const WeatherCourse* first = under(days[a], weather);
            const WeatherCourse* second = under(days[b], weather);
            if (first == nullptr || second == nullptr) continue;
            const std::size_t i = nearest(days[a].clock, times[a]);
            const std::size_t j = nearest(days[b].clock, times[b]);
            for (const FaceCourse& f : first->faces)
                for (const FaceCourse& g : second->faces) {
                    if (f.mark != g.mark || !(f.in_frame || g.in_frame)) continue;
                    const MeterCourse* before = meter(*first, f.mark + " front");
                    const MeterCourse* after = meter(*second, f.mark + " front");
                    if (before == nullptr || after == nullptr) continue;
                    Mismatch m{days[a].setup, days[b].setup, f.mark, times[a], times[b], 0, 0, 0, false};
                    m.key_fill = cheeks(*second, f.mark, j) - cheeks(*first, f.mark, i);
                    m.level = std::log2(after->lux[j].value / before->lux[i].value);
                    m.kelvin = after->kelvin[j] - before->kelvin[i];
                    m.any = std::abs(m.key_fill) > window_stops || std::abs(m.kelvin) > window_kelvin;
                    if (std::isfinite(m.key_fill)) found.push_back(m);
                }
        }
    return found;
}

}  // namespace rushlight
