#include "results/day/direct_sun.h"

#include "scene/rays/camera_view.h"

#include <functional>

namespace rushlight {

namespace {

// Less than this share of the sun is no sun patch: a closed curtain, a black net.
constexpr float least_share = 0.02F;

bool sees_sun(const Scene& scene, const Vec3& at, const Vec3& toward) {
    Spectrum share{1.0F};
    return scene.rays.passes(Ray{at, toward}, share) && share.largest() > least_share;
}

/// Where `lit` turns between two times at which it differs.
double turn(const std::function<bool(double)>& lit, double before, double after) {
    const bool first = lit(before);
    while (after - before > 0.1 / 60) {
        const double middle = (before + after) / 2;
        (lit(middle) == first ? before : after) = middle;
    }
    return after;
}

std::vector<Interval> when(const std::function<bool(double)>& lit, const DayHours& hours) {
    std::vector<Interval> found;
    constexpr double minute = 1.0 / 60;
    double last = hours.from;
    bool was = lit(last);
    double since = last;
    while (last < hours.to) {
        const double now = std::min(last + minute, hours.to);
        const bool is = lit(now);
        if (is != was) {
            const double at = turn(lit, last, now);
            if (was) found.push_back({since, at});
            since = at;
        }
        was = is;
        last = now;
    }
    if (was && hours.to > since) found.push_back({since, hours.to});
    return found;
}

}  // namespace

std::vector<SunOn> direct_sun(const Setup& setup, const Scene& scene, const DayHours& hours) {
    std::vector<SunOn> all;
    if (setup.day.dark) return all;
    const auto toward = [&](double clock) {
        const SunPosition sun = sun_at(setup, clock);
        return std::pair{sun.altitude.value > 0, toward_compass(setup.place, sun.azimuth, sun.altitude)};
    };
    const auto add = [&](std::string what, const std::string& mark, const std::vector<MeterPoint>& points) {
        all.push_back({std::move(what), mark,
                       when(
                           [&](double clock) {
                               const auto [up, sun] = toward(clock);
                               for (const MeterPoint& p : points)
                                   if (up && p.facing.dot(sun) > 0 && sees_sun(scene, p.at, sun)) return true;
                               return false;
                           },
                           hours)});
    };
    const std::vector<PlacedMeter> meters = place_meters(setup, scene);
    const std::size_t faces = setup.rig.marks.size();
    for (std::size_t i = 0; i < faces; ++i) {
        std::vector<MeterPoint> face;
        for (std::size_t k = 0; k + 1 < meters_a_face; ++k) face.push_back(meters[meters_a_face * i + k].point);
        add(setup.rig.marks[i].name + "'s face", setup.rig.marks[i].name, face);
    }
    for (std::size_t i = meters_a_face * faces; i < meters.size(); ++i)
        add(meters[i].reading.name, meters[i].reading.mark, {meters[i].point});
    if (setup.camera >= 0) {
        const CameraView view = CameraView::for_asking(*setup.its_camera());
        all.push_back({"the lens", "",
                       when(
                           [&](double clock) {
                               const auto [up, sun] = toward(clock);
                               float x = 0;
                               float y = 0;
                               return up && view.project(view.at() + sun, x, y) && view.in_picture(x, y) &&
                                      sees_sun(scene, view.at(), sun);
                           },
                           hours)});
    }
    return all;
}

}  // namespace rushlight
