#include "results/day/day.h"

#include "quantity/clock.h"
#include "quantity/colour.h"
#include "quantity/exposure.h"
#include "results/day/direct_sun.h"
#include "results/day/sun_window.h"
#include "results/day/traced_day.h"
#include "results/day/view_hold.h"
#include "results/readings/view_spots.h"
#include "results/sheet/face_meters.h"
#include "scene/rays/camera_view.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

constexpr std::size_t near_cheek = 0, far_cheek = 1, dome = 3;  // of a face: see place_meters()

std::vector<double> clock_of(const Setup& setup, const DayHours& hours) {
    std::vector<double> clock;
    const int steps = static_cast<int>(std::floor((hours.to - hours.from) / hours.step + 1e-6));
    for (int i = 0; i <= steps; ++i) clock.push_back(hours.from + i * hours.step);
    const double plan = setup.day.clock_hours;
    for (const double c : clock)
        if (std::abs(c - plan) < 1e-6) return clock;
    clock.push_back(plan);
    std::sort(clock.begin(), clock.end());
    return clock;
}

bool face_in_frame(const Setup& setup, const Figure& figure) {
    if (setup.camera < 0) return true;
    const CameraView view = CameraView::for_asking(*setup.its_camera());
    float x = 0;
    float y = 0;
    // A face that is turned away by more than a right angle and some shows only its hair.
    const bool seen = figure.nose.dot((view.at() - figure.front.at).normalized()) > -0.2F;
    return seen && view.project(figure.front.at, x, y) && view.in_picture(x, y);
}

double kelvin_of(const Spectrum& light) {
    return light.dark() ? 0.0 : colour_temperature(tristimulus(light)).cct.value;
}

/// Everything that is measured, in the order of the meters' list: placed meters, then the spots of each view.
struct Points {
    std::vector<PlacedMeter> placed;
    std::vector<ViewSpots> views;
    std::vector<MeterPoint> all;
    Wanted wanted;
    std::size_t first_spot(std::size_t view) const {
        std::size_t n = placed.size();
        for (std::size_t v = 0; v < view; ++v) n += views[v].spots.size();
        return n;
    }
};

Points points_of(const Setup& setup, const Scene& scene) {
    Points p;
    p.placed = place_meters(setup, scene);
    p.views = view_spots(setup, scene);
    for (const PlacedMeter& m : p.placed) {
        p.wanted.push_back({p.all.size()});
        p.all.push_back(m.point);
    }
    for (const ViewSpots& v : p.views) {
        p.wanted.emplace_back();
        for (const MeterPoint& spot : v.spots) {
            p.wanted.back().push_back(p.all.size());
            p.all.push_back(spot);
        }
    }
    return p;
}

/// Mean of an opening's spots, without those that look into the sun itself.
Varied view_of(const Points& p, std::size_t view, const TracedDay::Taken& taken, const Vec3& toward_sun) {
    const std::size_t first = p.first_spot(view);
    Varied sum;
    int count = 0;
    for (std::size_t i = 0; i < p.views[view].spots.size(); ++i) {
        constexpr float beside_the_sun = 0.99985F;  // a degree
        if (p.all[first + i].facing.dot(toward_sun) > beside_the_sun) continue;
        sum = weighted_sum(sum, 1, taken.amount[first + i], 1);
        ++count;
    }
    return count > 0 ? weighted_sum(sum, 1.0 / count, {}, 0) : sum;
}

/// Stops of a luminance over the grey card that stands where this illuminance falls.
Varied over_grey_of(const Varied& luminance, const Varied& lux) {
    Varied stops = stops_between(luminance, lux);
    stops.value -= std::log2(grey_reflectance / pi);
    return stops;
}

class Course {
public:
    Course(const Setup& setup, const Scene& scene, const Points& points, const TracedDay& light, DayCourse& day)
        : setup_(setup), scene_(scene), points_(points), light_(light), day_(day) {}

    WeatherCourse under(Weather weather) {
        WeatherCourse course;
        course.weather = weather;
        for (const PlacedMeter& m : points_.placed)
            course.meters.push_back({m.reading.name, m.reading.mark, m.reading.kind, {}, {}, {}});
        for (std::size_t i = 0; i < setup_.rig.marks.size(); ++i) {
            FaceCourse face;
            face.mark = setup_.rig.marks[i].name;
            face.in_frame = face_in_frame(setup_, scene_.figures[i]);
            course.faces.push_back(std::move(face));
        }
        const Daylight then = outside_at(setup_, weather, day_.clock[day_.plan]);
        plan_ = light_.taken(day_.plan, then);
        for (std::size_t h = 0; h < day_.clock.size(); ++h) hour(course, h);
        if (then.sun && !course.faces.empty()) {
            const TracedDay::Taken covered = light_.taken(day_.plan, then, false);
            if (lit(plan_.amount[dome]) && lit(covered.amount[dome]))
                course.cloud_swing = stops_between(covered.amount[dome], plan_.amount[dome]).value;
        }
        return course;
    }

private:
    static bool lit(const Varied& v) { return v.value > 1e-9; }

    void hour(WeatherCourse& course, std::size_t h) {
        const Daylight outside = outside_at(setup_, course.weather, day_.clock[h]);
        const TracedDay::Taken taken = light_.taken(h, outside);
        const Exposure exposure = setup_.exposure();
        for (std::size_t m = 0; m < course.meters.size(); ++m) {
            const Measured lux = taken.amount[m].measured();
            course.meters[m].lux.push_back(lux);
            course.meters[m].t_stop.push_back(lux.value > 0 ? metered_t_stop(Lux{lux.value}, exposure) : 0.0);
            course.meters[m].kelvin.push_back(kelvin_of(taken.light[m]));
        }
        Varied brightest;
        std::string name;
        for (std::size_t v = 0; v < points_.views.size(); ++v) {
            const Varied view = view_of(points_, v, taken, outside.toward_sun);
            if (view.value <= brightest.value) continue;
            brightest = view;
            name = points_.views[v].opening;
        }
        course.view_luminance.push_back(brightest.value);
        course.view_of.push_back(name);
        constexpr Measured none{NAN, NAN};
        for (std::size_t i = 0; i < course.faces.size(); ++i) {
            FaceCourse& face = course.faces[i];
            const Varied* now = &taken.amount[meters_a_face * i];
            const Varied* plan = &plan_.amount[meters_a_face * i];
            const bool near_is_key = plan[near_cheek].value >= plan[far_cheek].value;
            const Varied& key = now[near_is_key ? near_cheek : far_cheek];
            const Varied& fill = now[near_is_key ? far_cheek : near_cheek];
            const bool both = lit(now[dome]) && lit(plan[dome]);
            face.level.push_back(h == day_.plan ? Measured{}
                                 : both         ? difference(stops_of(now[dome]), stops_of(plan[dome]))
                                                : none);
            face.key_fill.push_back(lit(key) && lit(fill) ? stops_between(key, fill).measured() : none);
            face.kelvin.push_back(course.meters[meters_a_face * i + dome].kelvin.back());
            const Varied& brighter = key.value >= fill.value ? key : fill;
            face.view.push_back(lit(brightest) && lit(brighter) ? over_grey_of(brightest, brighter).measured() : none);
        }
    }

    const Setup& setup_;
    const Scene& scene_;
    const Points& points_;
    const TracedDay& light_;
    DayCourse& day_;
    TracedDay::Taken plan_;
};

}  // namespace

DayCourse take_day(const Setup& setup, const DayHours& hours, const std::vector<Weather>& weathers,
                   const Effort& effort) {
    DayCourse day;
    day.title = setup.title;
    day.setup = setup.name;
    day.option = setup.option;
    day.minutes = setup.minutes;
    day.zone = zone_text(setup.day.utc_offset_hours);
    day.clock = clock_of(setup, hours);
    for (std::size_t h = 0; h < day.clock.size(); ++h) {
        if (std::abs(day.clock[h] - setup.day.clock_hours) < 1e-6) day.plan = h;
        day.sun.push_back(sun_at(setup, day.clock[h]));
    }
    Scene scene = build_scene(setup);
    day.sun_on = direct_sun(setup, scene, hours);
    const Points points = points_of(setup, scene);
    const TracedDay light(setup, scene, points.all, points.wanted, day.clock, effort);
    day.seconds = light.seconds();
    for (const Weather w : weathers) {
        day.weathers.push_back(Course(setup, scene, points, light, day).under(w));
        find_sun_windows(day, day.weathers.back());
        if (effort.stopped()) break;
        if (!points.views.empty()) day.view_holds.push_back(view_hold(setup, day, day.weathers.back(), effort));
    }
    if (points.views.empty()) day.remarks.emplace_back("No opening can be seen from the camera or the first mark.");
    if (light.cut_short())
        day.remarks.emplace_back(
            "Stopped before every hour was as accurate as asked; the errors shown are the ones it reached.");
    return day;
}

}  // namespace rushlight
