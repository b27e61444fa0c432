#include "results/readings/camera_readings.h"

#include "paths/measure.h"
#include "quantity/exposure.h"
#include "results/light/direct_light.h"
#include "results/readings/view_spots.h"
#include "results/sheet/nd_sheet.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

Measured over_grey(const Measured& luminance, const Exposure& exposure) {
    return {over_grey(Luminance{luminance.value}, exposure).value, stops_of(luminance).error};
}

std::string range_state(const Measured& over, const Camera& camera) {
    if (over.value >= camera.headroom) return "clips";
    return over.value <= -camera.footroom ? "lost" : "";
}

CameraReadings describe_camera(const Setup& setup, const Camera& camera) {
    CameraReadings r;
    r.name = camera.name;
    r.subject = camera.of;
    r.grey = grey_luminance(camera.exposure).value;
    r.metered = metered_illuminance(camera.exposure).value;
    r.headroom = camera.headroom;
    r.footroom = camera.footroom;
    r.white_balance = camera.white_balance;
    r.lens = camera.lens;
    r.mist = camera.mist.share;
    r.focus = camera.focus;
    const ThinLens lens = camera.thin_lens();
    const ThinLens::Sharp sharp = lens.sharp(usual_circle(camera.sensor_width, camera.sensor_height));
    r.sharp_from = sharp.near;
    r.sharp_to = sharp.far;
    if (r.subject.empty() && setup.rig.marks.size() == 1) r.subject = setup.rig.marks.front().name;
    return r;
}

void read_lens(const Setup& setup, const Scene& scene, const CameraView& view, const SheetMeters& meters,
               const MeterResults& results, const FilteredView* filtered, CameraReadings& readings) {
    const Camera& camera = *setup.its_camera();
    readings.lens_lux = results.all(meters.lens);

    for (const SheetMeters::Window& w : meters.windows) {
        WindowInView seen;
        seen.name = w.opening;
        seen.luminance = results.brightest(w.spots);
        if (!(seen.luminance.value > 0)) continue;
        if (filtered != nullptr) {
            const auto as_read = [&](std::size_t a, std::size_t b) {
                return results.all(a).value < results.all(b).value;
            };
            const std::size_t brightest = *std::max_element(w.spots.begin(), w.spots.end(), as_read);
            seen.on_sensor = filtered->on_sensor(meters.points[brightest], seen.luminance);
        }
        seen.over_grey = over_grey(seen.on_sensor.value_or(seen.luminance), camera.exposure);
        const double too_much = seen.over_grey.value - camera.headroom;
        seen.holds = too_much < 0;
        if (!seen.holds) seen.nd_to_hold = nd_sheet_for(Stop{too_much});
        readings.windows.push_back(seen);
    }
    std::sort(readings.windows.begin(), readings.windows.end(),
              [](const WindowInView& a, const WindowInView& b) { return a.luminance.value > b.luminance.value; });

    for (std::size_t s = 0; s < scene.lights.count(); ++s) {
        IntoLens in;
        in.source = scene.lights.sources()[s];
        in.direct = direct_light(scene, s, meters.points[meters.lens], [&](const Vec3& toward) {
                        float x = 0, y = 0;
                        in.in_picture =
                            in.in_picture || (view.project(view.at() + toward, x, y) && view.in_picture(x, y));
                    }).lux;
        if (in.direct > 0) readings.into_lens.push_back(in);
    }
}

void hold_windows_against(const Measured& face, double lux, CameraReadings& readings) {
    if (!(face.value > 0)) return;
    for (WindowInView& w : readings.windows) {
        w.over_face = stops_between(face, w.luminance);
        if (!w.holds) w.lux_to_hold = lux * std::exp2(w.over_grey.value - readings.headroom);
    }
}

}  // namespace rushlight
