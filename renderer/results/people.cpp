#include "results/people.h"

#include "results/camera_readings.h"
#include "results/eye_light.h"
#include "results/face_meters.h"
#include "results/key_light.h"
#include "results/spots.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace rushlight {

namespace {

constexpr double sure_enough = 0.03;       // of a spot: a twenty-fourth of a stop
constexpr double iris_reflectance = 0.05;  // docs/people.md

SpotReading spot_reading(std::string name, const Measured& luminance, const Camera& camera) {
    SpotReading s{std::move(name), luminance, over_grey(luminance, camera.exposure), ""};
    s.state = range_state(s.over_grey, camera);
    return s;
}

const SpotReading* find(const PersonReadings& p, const std::string& name) {
    for (const SpotReading& s : p.spots)
        if (s.name == name) return &s;
    return nullptr;
}

Measured stops_between(const Measured& from, const Measured& to) {
    return {std::log2(to.value / from.value),
            std::hypot(from.relative_error(), to.relative_error()) / std::numbers::ln2};
}

/// The spots that come with the separation along the outline.
void add_outline(const Sheet& sheet, const Camera& camera, PersonReadings& p) {
    for (const Separation& s : sheet.separations) {
        if (s.mark != p.mark || !(s.outline.value > 0) || !(s.behind.value > 0)) continue;
        const bool hair = s.name.find(" hair over ") != std::string::npos;
        p.spots.push_back(spot_reading(hair ? "hair edge" : "edge of the head", s.outline, camera));
        p.spots.push_back(spot_reading("behind that edge", s.behind, camera));
    }
}

/// Key cheek, reflected ratio and background, as far as the lens sees them.
void compare_spots(PersonReadings& p) {
    const SpotReading *near = find(p, "near cheek"), *far = find(p, "far cheek");
    if (near != nullptr && far != nullptr && near->luminance.value > 0 && far->luminance.value > 0) {
        const bool near_is_key = p.key_side == "near";
        Ratio r;
        r.name = "reflected, spot on the cheeks";
        r.stops = stops_between((near_is_key ? far : near)->luminance, (near_is_key ? near : far)->luminance);
        r.ratio = std::exp2(r.stops.value);
        p.key_to_fill.push_back(r);
    }
    const SpotReading* key = find(p, p.key_side + " cheek");
    if (key == nullptr || !(key->luminance.value > 0)) return;
    Measured behind;
    int count = 0;
    for (const SpotReading& s : p.spots)
        if (s.name.rfind("background", 0) == 0) {
            behind.value += s.luminance.value;
            behind.error = std::hypot(behind.error, s.luminance.error);
            ++count;
        }
    if (count == 0 || !(behind.value > 0)) return;
    behind.value /= count;
    behind.error /= count;
    p.background_step = stops_between(key->luminance, behind);
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

void read_people(const Setup& setup, const Scene& traced, const Scene& scene, const std::vector<MeterPoint>& points,
                 const MeterResults& results, const Effort& effort, KeptLight& light, Sheet& sheet) {
    const Camera& camera = *setup.its_camera();
    const CameraView view(camera, 1600,
                          std::max(1, static_cast<int>(1600 * camera.sensor_height / camera.sensor_width)));
    Effort own = effort;
    own.tell = nullptr;
    own.relative_error = std::max(effort.relative_error, sure_enough);
    const std::size_t parts = 2 + setup.rig.marks.size();
    own.seconds = effort.seconds / static_cast<double>(parts);
    own.seed = effort.seed + 2000;

    std::vector<PersonSpots> placed;
    std::vector<MeterPoint> spots;
    for (std::size_t i = 0; i < setup.rig.marks.size(); ++i) {
        placed.push_back(place_spots(setup, scene, view, static_cast<int>(i)));
        for (const PlacedSpot& s : placed.back().seen) spots.push_back(s.point);
    }
    const MeterResults seen = light.measure(traced, spots, own);
    sheet.seconds += seen.seconds;

    sheet.camera = describe_camera(setup, camera);
    own.seed += 1;
    sheet.seconds += read_lens(setup, traced, scene, view, own, light, *sheet.camera);

    std::size_t next = 0;
    for (std::size_t i = 0; i < setup.rig.marks.size(); ++i) {
        PersonReadings p;
        p.mark = setup.rig.marks[i].name;
        p.in_picture = placed[i].in_picture;
        p.not_seen = placed[i].not_seen;
        for (const PlacedSpot& s : placed[i].seen) {
            if (seen.batches() > 0) p.spots.push_back(spot_reading(s.name, seen.all(next), camera));
            ++next;
        }
        const std::size_t near = meters_a_face * i, far = near + 1, front = near + 2;
        if (const auto cheeks = cheek_ratio(results, near, far, p.mark, true))
            find_key(scene, results, points, near, far, *cheeks, p);
        if (p.in_picture) {
            add_outline(sheet, camera, p);
            compare_spots(p);
            own.seed += 1;
            const double iris = results.all(front).value * iris_reflectance / pi;
            if (!effort.stopped()) sheet.seconds += find_eye_lights(scene, view, static_cast<int>(i), iris, own, p);
        }
        sheet.people.push_back(std::move(p));
    }
    sheet.camera->subject = subject_of(setup, scene, view, sheet);
    for (std::size_t i = 0; i < sheet.people.size(); ++i) {
        const PersonReadings& p = sheet.people[i];
        if (p.mark != sheet.camera->subject) continue;
        if (const SpotReading* key = find(p, p.key_side + " cheek"))
            hold_windows_against(key->luminance, results.all(meters_a_face * i + (p.key_side == "near" ? 0 : 1)).value,
                                 *sheet.camera);
    }
}

}  // namespace rushlight
