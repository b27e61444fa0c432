#include "results/readings/readings.h"

#include "paths/measure.h"
#include "quantity/colour.h"
#include "quantity/exposure.h"
#include "results/frame/filtered_view.h"
#include "results/light/remarks.h"
#include "results/readings/in_shot.h"
#include "results/readings/people.h"
#include "results/readings/sheet_meters.h"
#include "results/sheet/face_meters.h"
#include "results/sheet/key_light.h"
#include "results/sheet/outline.h"
#include "setup/text/where.h"
#include "setup/text/words.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

// Of the time that is given: the rest is for what eyes and glasses mirror, and for a look through the filters.
constexpr double for_meters = 0.8, for_filters = 0.1, for_mirrors = 0.1;

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
        const std::size_t near = meters_a_face * i;
        const std::size_t far = near + 1;
        const auto r = cheek_ratio(results, near, far, setup.rig.marks[i].name, setup.camera >= 0);
        if (!r) continue;
        const bool near_is_key = results.all(near).value >= results.all(far).value;
        sheet.readings[near].side = near_is_key ? "key" : "fill";
        sheet.readings[far].side = near_is_key ? "fill" : "key";
        sheet.ratios.push_back(*r);
    }
}

/// Of a group of spots whose mean, without a filter, is `mean`.
Measured mean_on_sensor(const FilteredView& filtered, const std::vector<MeterPoint>& points,
                        const std::vector<std::size_t>& group, const Measured& mean, const MeterResults& results) {
    double sum = 0, added_error = 0;
    for (const std::size_t p : group) {
        const Measured there = filtered.on_sensor(points[p], {results.all(p).value, 0});
        sum += there.value / static_cast<double>(group.size());
        added_error += there.error / static_cast<double>(group.size());  // one veil: its places go wrong together
    }
    return {sum, std::hypot(mean.error, added_error)};
}

void add_separations(const Setup& setup, const SheetMeters& meters, const MeterResults& results,
                     const FilteredView* filtered, Sheet& sheet) {
    for (const OutlineMeters& outline : meters.outlines) {
        const std::vector<std::size_t>&on = outline.on, &behind = outline.behind;
        Separation s;
        s.name = outline.name;
        s.mark = setup.rig.marks[outline.mark].name;
        s.outline = results.all(on);
        s.behind = results.all(behind);
        s.stops = results.stops(on, behind);
        s.least = INFINITY;
        for (std::size_t k = 0; k < on.size(); ++k)
            s.least = std::min(s.least, std::abs(results.stops(on[k], behind[k]).value));
        if (filtered != nullptr) {
            s.outline_on_sensor = mean_on_sensor(*filtered, meters.points, on, s.outline, results);
            s.behind_on_sensor = mean_on_sensor(*filtered, meters.points, behind, s.behind, results);
            s.stops_on_sensor = stops_between(*s.behind_on_sensor, *s.outline_on_sensor);
        }
        if (std::isfinite(s.stops.value)) sheet.separations.push_back(s);
    }
}

}  // namespace

std::vector<OutlineMeters> outlines_of(const Setup& setup, const Scene& scene) {
    std::vector<OutlineMeters> all;
    if (setup.camera < 0) return all;
    const CameraView view = CameraView::for_asking(*setup.its_camera());
    constexpr float spot_tangent = 0.001F;
    constexpr std::size_t fewest_places = 4;
    for (std::size_t i = 0; i < setup.rig.marks.size(); ++i) {
        const auto outline = head_outline(scene, view, static_cast<int>(i));
        if (outline.size() < fewest_places) continue;
        OutlineMeters m;
        m.mark = i;
        std::size_t of_hair = 0;
        for (const OutlinePlace& p : outline) {
            m.on.push_back(m.spots.size());
            m.spots.push_back({MeterKind::spot, p.on.origin, p.on.direction, spot_tangent, 0, 0, sure_enough_side});
            m.behind.push_back(m.spots.size());
            m.spots.push_back(
                {MeterKind::spot, p.behind.origin, p.behind.direction, spot_tangent, 0, 0, sure_enough_side});
            of_hair += p.kind == PartKind::hair;
        }
        const bool hair = of_hair * 2 >= outline.size();
        m.name = setup.rig.marks[i].name + (hair ? " hair over background" : " head over background");
        all.push_back(std::move(m));
    }
    return all;
}

std::vector<NamedMeter> meters_of(const Setup& setup, const Scene& scene) {
    std::vector<NamedMeter> named;
    for (const PlacedMeter& m : place_meters(setup, scene)) named.push_back({m.reading.name, m.reading.mark, m.point});
    return named;
}

NamedMeter meter_named(const std::string& asked, const Setup& setup, const Scene& scene) {
    const std::vector<NamedMeter> all = meters_of(setup, scene);
    std::vector<std::string> names;
    for (const NamedMeter& m : all) {
        if (tidy(m.name) == tidy(asked)) return m;
        names.push_back(m.name);
    }
    for (const NamedMeter& m : all)
        if (!m.mark.empty() && tidy(m.name) == tidy(asked + " front")) return m;
    throw InputError("no mark or meter " + in_quotes(asked) + hint(asked, names));
}

Sheet take_readings(const Setup& setup, const Scene& scene, const Effort& effort, KeptLight& light) {
    Sheet sheet;
    sheet.title = setup.title;
    sheet.setup = setup.name;
    sheet.option = setup.option;
    sheet.sources = scene.lights.sources();
    sheet.wanted_error = effort.seconds > 0 ? 0 : effort.relative_error;

    sheet.in_shot = in_shot(setup, scene);
    const std::vector<PlacedMeter> meters = place_meters(setup, scene);
    const SheetMeters all = sheet_meters(setup, scene);
    Effort own = effort;
    if (effort.seconds > 0 && setup.camera >= 0 && !setup.rig.marks.empty()) own.seconds = for_meters * effort.seconds;
    if (light.changed()) own.show = nullptr;  // it would show the light as it was traced
    const MeterResults results = light.measure(scene, all.points, own, all.wanted);
    sheet.seconds = results.seconds;
    const Exposure exposure = setup.exposure();
    for (std::size_t i = 0; i < meters.size(); ++i) {
        Reading r = meters[i].reading;
        if (results.batches() > 0) {
            fill(r, results, i, exposure);
        } else {
            r.by_source.resize(sheet.sources.size());
        }
        sheet.readings.push_back(std::move(r));
    }
    if (results.batches() > 0) {
        effort.has_reached_something();
        add_cheek_ratios(setup, results, sheet);
        std::optional<FilteredView> filtered;
        if (!effort.over() && setup.camera >= 0) {
            Effort glance = effort;
            glance.seconds = for_filters * effort.seconds;
            filtered = look_through_filters(setup, scene, glance, light);
        }
        const FilteredView* through = filtered ? &*filtered : nullptr;
        add_separations(setup, all, results, through, sheet);
        if (setup.camera >= 0) {
            Effort rest = effort;
            rest.show = nullptr;
            rest.seconds = for_mirrors * effort.seconds;
            // What is asked of lamps directly must see them as they are now, not as they were traced.
            if (light.changed())
                read_people(setup, build_scene(setup), all, results, rest, through, sheet);
            else
                read_people(setup, scene, all, results, rest, through, sheet);
        }
    } else {
        sheet.remarks.emplace_back(meters.empty() ? no_meter_remark : no_light_remark);
    }
    const bool time_is_up = effort.left() <= 0;
    if (results.cut_short || effort.stopped() || (time_is_up && setup.camera >= 0 && !setup.rig.marks.empty()))
        sheet.remarks.push_back(
            effort.stopped() ? "Stopped at your request: the errors shown are those reached."
            : time_is_up
                ? "There was not enough time for everything: a longer --time fills in what is missing."
                : "The wanted error was not reached in the longest time allowed; the errors shown are those reached.");
    for (std::string& said : light.remarks()) sheet.remarks.push_back(std::move(said));
    return sheet;
}

Sheet take_readings(const Setup& setup, const Scene& scene, const Effort& effort) {
    KeptLight none;
    return take_readings(setup, scene, effort, none);
}

std::vector<Change> changes(const Sheet& before, const Sheet& after) {
    std::vector<Change> found;
    for (const Reading& b : before.readings)
        for (const Reading& a : after.readings)
            if (a.name == b.name && a.lux.value > 0 && b.lux.value > 0)
                found.push_back({a.name, stops_between(b.lux, a.lux)});
    for (const Separation& b : before.separations)
        for (const Separation& a : after.separations)
            if (a.name == b.name)
                found.push_back({a.name, {a.stops.value - b.stops.value, std::hypot(a.stops.error, b.stops.error)}});
    return found;
}

}  // namespace rushlight
