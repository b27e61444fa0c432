#include "results/maps.h"

#include "paths/field.h"
#include "paths/workers.h"
#include "quantity/exposure.h"
#include "results/remarks.h"
#include "scene/camera_view.h"
#include "scene/first_seen.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace rushlight {

namespace {

// A meter's receptor stands this far off the surface.
constexpr float off_the_surface = 1e-3F;
constexpr float nothing = std::numeric_limits<float>::quiet_NaN();

void name_it(LightMap& map, const Setup& setup) {
    map.setup = setup.name;
    map.option = setup.option;
    if (setup.camera >= 0) map.metered_lux = metered_illuminance(setup.its_camera()->exposure).value;
}

/// One flat meter a point; points without one stay empty.
void measure_points(const Scene& scene, const std::vector<MeterPoint>& meters, const std::vector<char>& there,
                    LightMap& map, const Effort& effort, KeptLight& light) {
    Content points;
    points << "map" << meters.size();
    for (const MeterPoint& m : meters) points << m.at << m.facing;
    const Field field = light.field(
        scene, meters.size(), points, false,
        [&](std::size_t p, const LightPaths& pool, const Sharing& sharing, Sampler& sampler, std::span<Spectrum> layers,
            LightApart&) {
            if (there[p]) collect_at_meter(scene, meters[p], pool, sharing, sampler, layers);
        },
        effort);
    map.lux.assign(meters.size(), nothing);
    map.error.assign(meters.size(), nothing);
    for (std::size_t p = 0; p < meters.size(); ++p)
        if (there[p]) {
            map.lux[p] = field.sources > 0 ? field.mean[p] : 0.0F;
            map.error[p] = field.sources > 0 ? field.error[p] : 0.0F;
        }
    map.seconds = field.seconds;
    map.noise = field.noise;
    remark_on_field(field.sources, field.cut_short, effort, map.remarks);
    for (std::string& said : light.remarks()) map.remarks.push_back(std::move(said));
}

}  // namespace

LightMap map_view(const Setup& setup, const Scene& scene, int width, int height, const Effort& effort,
                  KeptLight& light) {
    LightMap map;
    map.width = width;
    map.height = height;
    name_it(map, setup);
    const CameraView view(*setup.its_camera(), width, height);
    const std::size_t pixels = static_cast<std::size_t>(width) * static_cast<std::size_t>(height);
    std::vector<MeterPoint> meters(pixels);
    std::vector<char> there(pixels, 0);
    map.shade.assign(pixels, 0.0F);
    for_each_piece(effort, static_cast<std::size_t>(height), [&](std::size_t row) {
        for (int x = 0; x < width; ++x) {
            const std::size_t p = map.at(x, static_cast<int>(row));
            const Ray ray = view.ray(static_cast<float>(x) + 0.5F, static_cast<float>(row) + 0.5F);
            const auto hit = first_seen(scene.rays, ray, looked_through);
            if (!hit || scene.rays.part(hit->part).emitter >= 0) continue;
            const Vec3 facing = hit->normal.dot(ray.direction) > 0 ? -hit->normal : hit->normal;
            meters[p] = {MeterKind::flat, hit->position + facing * off_the_surface, facing, 0};
            there[p] = 1;
            // A plain picture to lay the colours on: lit from the camera.
            map.shade[p] = std::clamp(0.35F + 0.65F * -facing.dot(ray.direction), 0.0F, 1.0F);
        }
    });
    measure_points(scene, meters, there, map, effort, light);
    return map;
}

LightMap map_plane(const Setup& setup, const Scene& scene, Metre plane_height, int longest, const Effort& effort,
                   KeptLight& light) {
    LightMap map;
    name_it(map, setup);
    map.plane = true;
    map.plane_height = plane_height.value;
    const Vec3 lower = setup.place.lower;
    const Vec3 size = setup.place.upper - lower;
    map.metres_per_pixel = static_cast<double>(std::max(size.x, size.y)) / longest;
    map.width = std::max(1, static_cast<int>(std::lround(static_cast<double>(size.x) / map.metres_per_pixel)));
    map.height = std::max(1, static_cast<int>(std::lround(static_cast<double>(size.y) / map.metres_per_pixel)));
    map.origin_x = static_cast<double>(lower.x);
    map.origin_y = static_cast<double>(lower.y);

    std::vector<MeterPoint> meters;
    for (int row = 0; row < map.height; ++row)
        for (int x = 0; x < map.width; ++x) {
            const double px = map.origin_x + (x + 0.5) * map.metres_per_pixel;
            const double py = map.origin_y + (map.height - row - 0.5) * map.metres_per_pixel;
            meters.push_back({MeterKind::flat,
                              {static_cast<float>(px), static_cast<float>(py), static_cast<float>(plane_height.value)},
                              {0, 0, 1},
                              0});
        }
    measure_points(scene, meters, std::vector<char>(meters.size(), 1), map, effort, light);
    const auto sign = [&](LightMap::SignKind kind, const std::string& name, const Vec3& at, const Vec3& toward,
                          double width) {
        const double facing = std::atan2(static_cast<double>(toward.y), static_cast<double>(toward.x)) * 180 / pi;
        map.signs.push_back({name, static_cast<double>(at.x), static_cast<double>(at.y), kind, facing, width});
    };
    using Kind = LightMap::SignKind;
    for (std::size_t i = 0; i < setup.rig.marks.size(); ++i)
        sign(Kind::mark, setup.rig.marks[i].name, setup.rig.marks[i].at, scene.figures[i].nose, 0);
    for (const Lamp& l : setup.rig.lamps)
        if (l.on) sign(l.shape == LampShape::ball ? Kind::ball : Kind::lamp, l.name, l.at, l.aim, l.width);
    for (const Panel& p : setup.rig.panels) sign(Kind::panel, p.name, p.at, p.facing, p.width);
    if (setup.camera >= 0) {
        const Camera& c = *setup.its_camera();
        sign(Kind::camera, c.name, c.at, c.look_at - c.at, 0);
    }
    return map;
}

}  // namespace rushlight
