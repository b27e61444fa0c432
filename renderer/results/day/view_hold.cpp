#include "results/day/view_hold.h"

#include "paths/measure.h"
#include "quantity/exposure.h"
#include "results/readings/view_spots.h"
#include "results/sheet/face_meters.h"
#include "results/sheet/nd_sheet.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

/// View over face as traced at one time, and the key cheek's lux.
struct Traced {
    double over_face = 0, key_lux = 0;
};
Traced trace(const Setup& setup, const Daylight& outside, std::size_t face, const std::string& opening,
             const Effort& effort) {
    Scene scene = build_scene(setup);
    scene.lights = lights_under(outside, scene, setup.rig, true);
    if (!scene.holes->rectangles.empty()) scene.openings = scene.holes;
    const std::vector<PlacedMeter> placed = place_meters(setup, scene);
    std::vector<MeterPoint> points{placed[meters_a_face * face].point, placed[meters_a_face * face + 1].point};
    for (const ViewSpots& v : view_spots(setup, scene))
        if (v.opening == opening) points.insert(points.end(), v.spots.begin(), v.spots.end());
    std::vector<std::size_t> spots;
    for (std::size_t i = 2; i < points.size(); ++i) spots.push_back(i);
    if (spots.empty()) return {};
    Effort own = effort;
    own.tell = nullptr;
    const MeterResults r = measure(scene, points, own, Wanted{{0}, {1}, spots});
    const double key = std::max(r.all(0).value, r.all(1).value);
    return {std::log2(r.all(spots).value * pi / (grey_reflectance * key)), key};
}

}  // namespace

Setup with_nd(Setup setup, const std::vector<std::string>& openings, double density) {
    const auto named = [&](const std::string& name) {
        return std::find(openings.begin(), openings.end(), name) != openings.end();
    };
    for (Opening& o : setup.place.room.openings)
        if (named(o.name)) o.nd_density += density;
    return setup;
}

ViewHold view_hold(const Setup& setup, const DayCourse& day, const WeatherCourse& course, const Effort& effort) {
    ViewHold hold;
    hold.weather = course.weather;
    hold.headroom = (setup.its_camera() != nullptr ? *setup.its_camera() : Camera{}).headroom;
    // The face that the frame is about: the darkest one, because its grey is the lowest.
    std::size_t face = course.faces.size();
    for (std::size_t i = 0; i < course.faces.size(); ++i) {
        const double v = course.faces[i].view[day.plan].value;
        if (!course.faces[i].in_frame || !std::isfinite(v)) continue;
        if (face == course.faces.size() || v > course.faces[face].view[day.plan].value) face = i;
    }
    if (face == course.faces.size()) return hold;
    const FaceCourse& f = course.faces[face];
    hold.mark = f.mark;
    hold.opening = course.view_of[day.plan];
    hold.over_face = f.view[day.plan].value;
    hold.needed = hold.over_face > hold.headroom;
    for (std::size_t h = 0; h < day.clock.size(); ++h) {
        if (!(f.view[h].value <= hold.headroom)) continue;
        const bool goes_on =
            h > 0 && !hold.holds_by_itself.empty() && hold.holds_by_itself.back().to == day.clock[h - 1];
        if (goes_on)
            hold.holds_by_itself.back().to = day.clock[h];
        else
            hold.holds_by_itself.push_back({day.clock[h], day.clock[h]});
    }
    if (!hold.needed || effort.stopped()) return hold;

    const double luminance = course.view_luminance[day.plan];
    const double key_lux = luminance * pi / grey_reflectance / std::exp2(hold.over_face);
    hold.more_lux = key_lux * (std::exp2(hold.over_face - hold.headroom) - 1);
    if (!setup.place.has_room) return hold;
    hold.nd_density = nd_sheet_for(Stop{hold.over_face - hold.headroom});
    const Daylight outside = outside_at(setup, course.weather, day.clock[day.plan]);
    const Traced with = trace(with_nd(setup, {hold.opening}, hold.nd_density), outside, face, hold.opening, effort);
    hold.over_face_with_nd = with.over_face;
    hold.face_loss = std::log2(key_lux / with.key_lux);
    return hold;
}

}  // namespace rushlight
