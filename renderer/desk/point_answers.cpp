#include "desk/point_answers.h"

#include "desk/light/at_full.h"
#include "desk/light/sheet_json.h"
#include "paths/measure.h"
#include "pictures/frames/sphere_picture.h"
#include "quantity/exposure.h"
#include "results/frame/sphere.h"
#include "results/readings/readings.h"
#include "scene/rays/camera_view.h"
#include "scene/rays/first_seen.h"
#include "setup/text/where.h"
#include "setup/text/words.h"

#include <cmath>

namespace rushlight::desk {

namespace {

constexpr double far_away = 1e4;                                    // m
constexpr double time_for_a_point = 0.25, time_for_a_sphere = 1.0;  // s

struct Asked {
    std::string where;
    std::vector<MeterPoint> meters;  // flat, then spot or dome
};

double number_at(const JsonValue& list, std::size_t i) {
    if (!list.is_array() || i >= list.size() || !list[i].is_number())
        throw InputError("expected a point of two numbers");
    const double v = list[i].get<double>();
    if (!(std::abs(v) < far_away)) throw InputError("that point is too far off");
    return v;
}

Asked seen_in_frame(const LiveLight::Lit& lit, const JsonValue& uv) {
    const Camera* camera = lit.asked.its_camera();
    if (!camera) throw InputError("this set-up has no camera to look through");
    constexpr int width = 1000;
    const int height = static_cast<int>(std::lround(width * camera->sensor_height / camera->sensor_width));
    const CameraView view(*camera, width, height);
    const Scene& scene = *lit.light->scene;
    const Ray ray =
        view.ray(static_cast<float>(number_at(uv, 0) * width), static_cast<float>(number_at(uv, 1) * height));
    const auto hit = first_seen(scene.rays, ray, looked_through);
    constexpr float spot_tangent = 0.002F, off_the_surface = 1e-3F;
    Asked a{hit ? scene.rays.part(hit->part).name : "the sky", {}};
    const Vec3 facing = !hit ? -ray.direction : hit->normal.dot(ray.direction) > 0 ? -hit->normal : hit->normal;
    const Vec3 at = hit ? hit->position + facing * off_the_surface : ray.origin;
    a.meters.push_back({MeterKind::flat, at, facing, 0});
    a.meters.push_back({MeterKind::spot, ray.origin, ray.direction, spot_tangent});
    return a;
}

Asked on_plan(const LiveLight::Lit& lit, const JsonValue& xy, double height) {
    const Vec3 at(static_cast<float>(number_at(xy, 0)), static_cast<float>(number_at(xy, 1)),
                  static_cast<float>(height));
    Vec3 toward(0, 0, 1);
    if (const Camera* c = lit.asked.its_camera(); c && (c->at - at).length() > 0.01F)
        toward = (c->at - at).normalized();
    return {plain(std::round(height * 100) / 100) + " m over the floor",
            {{MeterKind::flat, at, {0, 0, 1}, 0}, {MeterKind::dome, at, toward, 0}}};
}

bool sound(const Vec3& v) {
    return std::isfinite(v.x) && std::isfinite(v.y) && std::isfinite(v.z) && v.length() < static_cast<float>(far_away);
}

}  // namespace

JsonValue reading_at(const LiveLight::Lit& lit, const JsonValue& asked) {
    const auto at = asked.find("at");
    if (at == asked.end() || !at->is_object()) throw InputError("expected where the meter is held");
    const bool frame = at->contains("frame");
    const double height = at->contains("height") ? number_at(JsonValue::array({(*at)["height"]}), 0) : 1.2;
    const Asked a = frame ? seen_in_frame(lit, (*at)["frame"])
                          : on_plan(lit, at->contains("plan") ? (*at)["plan"] : JsonValue(), height);
    for (const MeterPoint& m : a.meters)
        if (!sound(m.at)) throw InputError("that point is too far off");
    const Scene& scene = *lit.light->scene;
    const std::vector<std::string>& sources = scene.lights.sources();
    JsonValue j{{"where", json_text(a.where)}, {"sources", JsonValue::array()}};
    const Vec3 p = a.meters.front().at;
    j["at"] = {short_number(static_cast<double>(p.x)), short_number(static_cast<double>(p.y)),
               short_number(static_cast<double>(p.z))};
    if (sources.empty()) {
        j["lux"] = 0, j["error"] = 0;
        return j;
    }
    Effort effort;
    effort.seconds = time_for_a_point;
    effort.relative_error = 0;
    MeterResults bare_light = measure(scene, a.meters, effort, sharing_for(scene, 1, 64, 16), Wanted{});
    if (bare_light.batches() == 0) throw InputError("nothing was traced");
    const MeterResults now = bare_light.relit(burning(lit.asked, sources));
    const Measured lux = now.all(0), second = now.all(1);
    j["lux"] = short_number(lux.value);
    j["error"] = short_number(lux.relative_error());
    for (std::size_t s = 0; s < sources.size(); ++s) {
        const Measured m = now.of(0, s);
        j["sources"].push_back({{"name", json_text(sources[s])},
                                {"lux", short_number(m.value)},
                                {"error", short_number(m.relative_error())}});
    }
    if (frame) {
        j["luminance"] = short_number(second.value);
        j["luminance_error"] = short_number(second.relative_error());
        j["over_grey"] = short_number(std::log2(second.value / grey_luminance(lit.asked.exposure()).value));
    } else {
        j["dome"] = short_number(second.value);
        j["dome_error"] = short_number(second.relative_error());
    }
    if (lux.value > 0) j["t_stop"] = short_number(metered_t_stop(Lux{lux.value}, lit.asked.exposure()));
    return j;
}

Answer sphere_of_light(const LiveLight::Lit& lit, const std::string& reading) {
    const Scene& scene = *lit.light->scene;
    const NamedMeter meter = meter_named(reading, lit.asked, scene);
    Effort effort;
    effort.seconds = time_for_a_sphere;
    effort.relative_error = 0;
    KeptLight light(lit.light->at_full, lit.asked, LayerCache({}));
    const Origins found = find_origins(lit.asked, scene, meter.name, meter.point, effort, light);
    const LastSurfaces surfaces = last_surfaces(scene, lit.asked);
    constexpr int side = 140;
    const Sphere sphere = look_around(scene, meter.point, surfaces, side, effort, light);
    return {200, "image/png", std::make_shared<const std::string>(png(sphere_picture(found, sphere, surfaces, {})))};
}

}  // namespace rushlight::desk
