#include "results/readings.h"

#include "paths/measure.h"
#include "quantity/colour.h"
#include "quantity/exposure.h"
#include "results/outline.h"
#include "results/placed_meters.h"
#include "results/remarks.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

void fill(Reading& r, const MeterResults& results, std::size_t meter, const Exposure& exposure) {
    r.lux = results.all(meter);
    for (std::size_t s = 0; s < results.sources(); ++s) r.by_source.push_back(results.of(meter, s));
    r.t_stop = r.lux.value > 0 ? metered_t_stop(Lux{r.lux.value}, exposure) : 0.0;
    const Spectrum light = results.light(meter);
    if (!light.dark()) {
        const ColourTemperature t = colour_temperature(tristimulus(light));
        r.kelvin = t.cct.value;
        r.duv = t.duv;
    }
}

void add_cheek_ratios(const Setup& setup, const MeterResults& results, Sheet& sheet) {
    for (std::size_t i = 0; i < setup.rig.marks.size(); ++i) {
        const std::size_t near = 4 * i;
        const std::size_t far = near + 1;
        if (!(results.all(near).value > 0) || !(results.all(far).value > 0)) continue;
        const bool near_is_key = results.all(near).value >= results.all(far).value;
        Ratio r;
        r.name = setup.rig.marks[i].name + (near_is_key ? " cheeks, near over far" : " cheeks, far over near");
        if (setup.camera < 0)
            r.name = setup.rig.marks[i].name + (near_is_key ? " cheeks, left over right" : " cheeks, right over left");
        r.stops = near_is_key ? results.stops(near, far) : results.stops(far, near);
        r.ratio = std::exp2(r.stops.value);
        sheet.readings[near].side = near_is_key ? "key" : "fill";
        sheet.readings[far].side = near_is_key ? "fill" : "key";
        sheet.ratios.push_back(r);
    }
}

/// Outlines are measured by their own, with small spots: sure must be the two means along the outline.
/// Returns whether any was cut short.
bool add_separations(const Setup& setup, const Scene& scene, const Effort& effort, Sheet& sheet) {
    if (setup.camera < 0) return false;
    bool cut_short = false;
    const CameraView view(setup.rig.cameras[static_cast<std::size_t>(setup.camera)], 1600, 900);
    constexpr float spot_tangent = 0.001F;
    constexpr std::size_t fewest_places = 4;
    for (std::size_t i = 0; i < setup.rig.marks.size(); ++i) {
        const auto outline = head_outline(scene, view, static_cast<int>(i));
        if (outline.size() < fewest_places) continue;
        std::vector<MeterPoint> spots;
        for (const OutlinePlace& p : outline) {
            spots.push_back({MeterKind::spot, p.on.origin, p.on.direction, spot_tangent});
            spots.push_back({MeterKind::spot, p.behind.origin, p.behind.direction, spot_tangent});
        }
        Effort own = effort;
        own.tell = nullptr;
        own.seed = effort.seed + 1000 + i;
        if (effort.seconds > 0) own.seconds = 0.5 * effort.seconds / static_cast<double>(setup.rig.marks.size());
        std::vector<std::size_t> on;
        std::vector<std::size_t> behind;
        for (std::size_t k = 0; k < spots.size(); k += 2) {
            on.push_back(k);
            behind.push_back(k + 1);
        }
        const MeterResults results = measure(scene, spots, own, Wanted{on, behind});
        Separation s;
        const bool hair = std::count_if(outline.begin(), outline.end(),
                                        [](const OutlinePlace& p) { return p.kind == PartKind::hair; }) *
                              2 >=
                          static_cast<std::ptrdiff_t>(outline.size());
        s.name = setup.rig.marks[i].name + (hair ? " hair over background" : " head over background");
        s.stops = results.stops(on, behind);
        s.least = INFINITY;
        for (std::size_t k = 0; k < on.size(); ++k)
            s.least = std::min(s.least, std::abs(results.stops(on[k], behind[k]).value));
        if (std::isfinite(s.stops.value)) sheet.separations.push_back(s);
        sheet.seconds += results.seconds;
        cut_short = cut_short || results.cut_short;
    }
    return cut_short;
}

}  // namespace

Sheet take_readings(const Setup& setup, const Scene& scene, const Effort& effort) {
    Sheet sheet;
    sheet.title = setup.title;
    sheet.setup = setup.name;
    sheet.option = setup.option;
    sheet.sources = scene.lights.sources();
    sheet.wanted_error = effort.seconds > 0 ? 0 : effort.relative_error;

    const std::vector<PlacedMeter> meters = place_meters(setup, scene);
    std::vector<MeterPoint> points;
    for (const PlacedMeter& m : meters) points.push_back(m.point);
    Effort own = effort;
    if (effort.seconds > 0 && setup.camera >= 0 && !setup.rig.marks.empty()) own.seconds = 0.5 * effort.seconds;
    const MeterResults results = measure(scene, points, own);
    sheet.seconds = results.seconds;
    const Exposure exposure =
        setup.camera >= 0 ? setup.rig.cameras[static_cast<std::size_t>(setup.camera)].exposure : Exposure{};
    for (std::size_t i = 0; i < meters.size(); ++i) {
        Reading r = meters[i].reading;
        if (results.batches() > 0) {
            fill(r, results, i, exposure);
        } else {
            r.by_source.resize(sheet.sources.size());
        }
        sheet.readings.push_back(std::move(r));
    }
    bool cut_short = results.cut_short;
    if (results.batches() > 0) {
        add_cheek_ratios(setup, results, sheet);
        if (!effort.stopped()) cut_short = add_separations(setup, scene, effort, sheet) || cut_short;
    } else {
        sheet.remarks.emplace_back(no_light_remark);
    }
    if (cut_short)
        sheet.remarks.push_back(
            effort.stopped()
                ? "Stopped at your request: the errors shown are those reached."
                : "The wanted error was not reached in the longest time allowed; the errors shown are those reached.");
    return sheet;
}

std::vector<Change> changes(const Sheet& before, const Sheet& after) {
    std::vector<Change> found;
    constexpr double per_relative_error = 1.442695040888963;  // d log2(x) = dx / (x ln 2)
    for (const Reading& b : before.readings)
        for (const Reading& a : after.readings)
            if (a.name == b.name && a.lux.value > 0 && b.lux.value > 0)
                found.push_back({a.name,
                                 {std::log2(a.lux.value / b.lux.value),
                                  per_relative_error * std::hypot(a.lux.relative_error(), b.lux.relative_error())}});
    for (const Separation& b : before.separations)
        for (const Separation& a : after.separations)
            if (a.name == b.name)
                found.push_back({a.name, {a.stops.value - b.stops.value, std::hypot(a.stops.error, b.stops.error)}});
    return found;
}

}  // namespace rushlight
