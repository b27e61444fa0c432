#include "results/readings/people.h"

#include "results/glint/eye_light.h"
#include "results/glint/glasses_glare.h"
#include "results/readings/camera_readings.h"
#include "results/readings/spots.h"
#include "results/sheet/face_meters.h"
#include "results/sheet/key_light.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

SpotReading spot_reading(std::string name, const Measured& luminance, const std::optional<Measured>& on_sensor,
                         const Camera& camera) {
    SpotReading s{std::move(name), luminance, over_grey(luminance, camera.exposure), "", on_sensor};
    if (on_sensor) s.over_grey_on_sensor = over_grey(*on_sensor, camera.exposure);
    s.state = range_state(s.placed(), camera);
    return s;
}

const SpotReading* find(const PersonReadings& p, const std::string& name) {
    for (const SpotReading& s : p.spots)
        if (s.name == name) return &s;
    return nullptr;
}

/// The spots that come with the separation along the outline.
void add_outline(const Sheet& sheet, const Camera& camera, PersonReadings& p) {
    for (const Separation& s : sheet.separations) {
        if (s.mark != p.mark || !(s.outline.value > 0) || !(s.behind.value > 0)) continue;
        p.spots.push_back(spot_reading(edge_name(s.name), s.outline, s.outline_on_sensor, camera));
        p.spots.push_back(spot_reading(behind_edge, s.behind, s.behind_on_sensor, camera));
    }
}

/// As a meter beside the lens has it, or as the sensor gets it.
using Taken = Measured (*)(const SpotReading&);
Measured by_meter(const SpotReading& s) {
    return s.luminance;
}
Measured on_sensor(const SpotReading& s) {
    return s.on_sensor.value_or(s.luminance);
}

std::optional<Ratio> ratio_of_cheeks(const PersonReadings& p, const char* name, Taken taken) {
    const SpotReading *near = find(p, "near cheek"), *far = find(p, "far cheek");
    if (near == nullptr || far == nullptr || !(taken(*near).value > 0) || !(taken(*far).value > 0)) return std::nullopt;
    const bool near_is_key = p.key_side == "near";
    Ratio r;
    r.name = name;
    r.stops = stops_between(taken(near_is_key ? *far : *near), taken(near_is_key ? *near : *far));
    r.ratio = std::exp2(r.stops.value);
    return r;
}

/// Stops of the background, the mean of its two sides, over the key cheek.
std::optional<Measured> step_to_background(const PersonReadings& p, Taken taken) {
    const SpotReading* key = find(p, p.key_side + " cheek");
    if (key == nullptr || !(taken(*key).value > 0)) return std::nullopt;
    Measured behind;
    int count = 0;
    for (const SpotReading& s : p.spots)
        if (s.name.rfind("background", 0) == 0) {
            behind.value += taken(s).value;
            behind.error = std::hypot(behind.error, taken(s).error);
            ++count;
        }
    if (count == 0 || !(behind.value > 0)) return std::nullopt;
    behind.value /= count;
    behind.error /= count;
    return stops_between(taken(*key), behind);
}

/// Key cheek, reflected ratio and background, as far as the lens sees them.
void compare_spots(PersonReadings& p, const Camera& camera) {
    if (const auto r = ratio_of_cheeks(p, "reflected, spot on the cheeks", by_meter)) p.key_to_fill.push_back(*r);
    p.background_step = step_to_background(p, by_meter);
    if (std::none_of(p.spots.begin(), p.spots.end(), [](const SpotReading& s) { return s.on_sensor.has_value(); }))
        return;
    const char* name = camera.mist.share > 0 ? "the same through the mist" : "the same through the graduated ND";
    if (const auto r = ratio_of_cheeks(p, name, on_sensor)) p.key_to_fill.push_back(*r);
    p.background_step_on_sensor = step_to_background(p, on_sensor);
}

/// Which spot rises most on its way through a mist.
std::optional<MistLift> most_lifted(const Sheet& sheet) {
    std::optional<MistLift> most;
    for (const PersonReadings& p : sheet.people)
        for (const SpotReading& s : p.spots) {
            if (!s.on_sensor || !(s.luminance.value > 0)) continue;
            const Measured lift = stops_between(s.luminance, *s.on_sensor);
            if (!most || lift.value > most->stops.value) most = MistLift{p.mark + " " + s.name, lift};
        }
    return most;
}

/// Whom the picture is about: whom it was aimed at, else the face nearest to its middle.
std::string subject_of(const Setup& setup, const Scene& scene, const CameraView& view, const Sheet& sheet) {
    if (!sheet.camera->subject.empty()) return sheet.camera->subject;
    std::string best;
    float nearest = INFINITY;
    for (std::size_t i = 0; i < sheet.people.size(); ++i) {
        if (!sheet.people[i].in_picture) continue;
        const float off = (scene.figures[i].front.at - view.at()).normalized().dot(view.forward());
        if (1 - off < nearest) {
            nearest = 1 - off;
            best = setup.rig.marks[i].name;
        }
    }
    return best;
}

}  // namespace

void read_people(const Setup& setup, const Scene& scene, const SheetMeters& meters, const MeterResults& results,
                 const Effort& effort, const FilteredView* filtered, Sheet& sheet) {
    const Camera& camera = *setup.its_camera();
    const CameraView view = beside_the_lens(camera);
    Effort own = effort;
    own.tell = nullptr;
    std::size_t parts = setup.rig.marks.size();
    for (const Figure& figure : scene.figures) parts += figure.spectacles ? figure.spectacles->size() : 0;
    own.seconds = effort.seconds / static_cast<double>(std::max<std::size_t>(1, parts));
    own.seed = effort.seed + 2000;

    sheet.camera = describe_camera(setup, camera);
    read_lens(setup, scene, view, meters, results, filtered, *sheet.camera);

    for (std::size_t i = 0; i < setup.rig.marks.size(); ++i) {
        const PersonSpots& placed = meters.people[i].placed;
        PersonReadings p;
        p.mark = setup.rig.marks[i].name;
        p.in_picture = placed.in_picture;
        p.not_seen = placed.not_seen;
        for (std::size_t k = 0; k < placed.seen.size(); ++k) {
            const Measured seen = results.all(meters.people[i].first + k);
            std::optional<Measured> filtered_too;
            if (filtered != nullptr) filtered_too = filtered->on_sensor(placed.seen[k].point, seen);
            p.spots.push_back(spot_reading(placed.seen[k].name, seen, filtered_too, camera));
        }
        const std::size_t near = meters_a_face * i, far = near + 1, front = near + 2;
        if (const auto cheeks = cheek_ratio(results, near, far, p.mark, true))
            find_key(scene, results, meters.points, near, far, *cheeks, p);
        if (p.in_picture) {
            add_outline(sheet, camera, p);
            compare_spots(p, camera);
            own.seed += 1;
            const double iris = results.all(front).value * iris_reflectance / pi;
            if (!effort.over()) sheet.seconds += find_eye_lights(scene, view, static_cast<int>(i), iris, own, p);
            const StandIn& who = setup.rig.marks[i].person;
            const double skin = std::max(results.all(near).value, results.all(far).value) * who.skin / pi;
            Effort glances = own;
            glances.seed += 500;
            if (!effort.over()) sheet.seconds += find_glare(scene, view, who, static_cast<int>(i), skin, glances, p);
            if (std::string said = glare_remark(p); !said.empty()) sheet.remarks.push_back(std::move(said));
        }
        sheet.people.push_back(std::move(p));
    }
    sheet.camera->subject = subject_of(setup, scene, view, sheet);
    if (camera.mist.share > 0) sheet.camera->lift = most_lifted(sheet);
    for (std::size_t i = 0; i < sheet.people.size(); ++i) {
        const PersonReadings& p = sheet.people[i];
        if (p.mark != sheet.camera->subject) continue;
        if (const SpotReading* key = find(p, p.key_side + " cheek"))
            hold_windows_against(key->luminance, results.all(meters_a_face * i + (p.key_side == "near" ? 0 : 1)).value,
                                 *sheet.camera);
    }
}

}  // namespace rushlight
