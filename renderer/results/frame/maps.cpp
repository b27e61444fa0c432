#include "results/frame/maps.h"

#include "paths/field.h"
#include "quantity/exposure.h"
#include "quantity/units.h"
#include "results/frame/denoised.h"
#include "results/frame/map_points.h"
#include "results/light/remarks.h"
#include "setup/advice/planned_key.h"

#include <cmath>
#include <limits>
#include <utility>

namespace rushlight {

namespace {

constexpr float nothing = std::numeric_limits<float>::quiet_NaN();

void name_it(LightMap& map, const Setup& setup) {
    map.setup = setup.name;
    map.option = setup.option;
    for (const PlannedKey& k : planned_keys(setup)) map.keys.push_back({k.mark, k.lux});
    if (setup.camera >= 0) map.metered_lux = metered_illuminance(setup.its_camera()->exposure).value;
}

void measure_points(const Scene& scene, MapPoints points, LightMap& map, const Effort& effort, KeptLight& light) {
    map.width = points.width;
    map.height = points.height;
    map.metres_per_pixel = points.metres_per_pixel;
    map.origin_x = points.origin_x;
    map.origin_y = points.origin_y;
    map.shade = std::move(points.shade);
    map.thing = std::move(points.thing);
    map.things = std::move(points.things);
    const std::vector<MeterPoint>& meters = points.meters;
    const std::vector<char>& there = points.there;
    Content content;
    content << "map" << meters.size();
    for (const MeterPoint& m : meters) content << m.at << m.facing;
    const Field field = light.field(
        scene, meters.size(), content, false,
        [&](std::size_t p, const LightPaths& pool, const Sharing& sharing, Sampler& sampler, std::span<Spectrum> layers,
            SplitLight&) {
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
    std::vector<Vec3> facing(meters.size(), Vec3(0, 0, 0));
    for (std::size_t p = 0; p < meters.size(); ++p)
        if (there[p]) facing[p] = meters[p].facing;
    map.calm = denoised(map.width, map.height, map.lux, facing, effort);
    map.seconds = field.seconds;
    map.noise = field.noise;
    remark_on_field(field.sources, field.cut_short, effort, map.remarks);
    for (std::string& said : light.remarks()) map.remarks.push_back(std::move(said));
}

/// Furniture from above, and windows along their walls, for a plan.
void outline(const Place& place, LightMap& map) {
    for (const Box& b : place.boxes) {
        const double turn = radians(Degree{b.turn});
        const auto c = static_cast<float>(std::cos(turn)), s = static_cast<float>(std::sin(turn));
        LightMap::Outline one{b.name, {}, false};
        for (const auto& [i, j] : {std::pair{-0.5F, -0.5F}, {0.5F, -0.5F}, {0.5F, 0.5F}, {-0.5F, 0.5F}}) {
            const float x = i * b.size.x, y = j * b.size.y;
            one.corners.emplace_back(b.centre.x + c * x - s * y, b.centre.y + s * x + c * y, b.centre.z);
        }
        const bool inside = b.centre.x > place.lower.x && b.centre.x < place.upper.x && b.centre.y > place.lower.y &&
                            b.centre.y < place.upper.y;
        if (inside) map.outlines.push_back(std::move(one));
    }
    if (!place.has_room) return;
    for (const Opening& o : place.room.openings) {
        const bool along_x = o.wall == Wall::near || o.wall == Wall::far;
        if (!along_x && o.wall != Wall::left && o.wall != Wall::right) continue;
        const auto from = static_cast<float>(o.from), to = static_cast<float>(o.to);
        const float at = o.wall == Wall::far     ? static_cast<float>(place.room.depth)
                         : o.wall == Wall::right ? static_cast<float>(place.room.width)
                                                 : 0.0F;
        if (along_x)
            map.outlines.push_back({o.name, {Vec3(from, at, 0), Vec3(to, at, 0)}, true});
        else
            map.outlines.push_back({o.name, {Vec3(at, from, 0), Vec3(at, to, 0)}, true});
    }
}

}  // namespace

LightMap map_view(const Setup& setup, const Scene& scene, int width, int height, const Effort& effort,
                  KeptLight& light) {
    LightMap map;
    name_it(map, setup);
    measure_points(scene, points_in_view(setup, scene, width, height, effort), map, effort, light);
    return map;
}

LightMap map_plane(const Setup& setup, const Scene& scene, Metre plane_height, int longest, const Effort& effort,
                   KeptLight& light) {
    LightMap map;
    name_it(map, setup);
    map.plane = true;
    map.plane_height = plane_height.value;
    measure_points(scene, points_on_plane(setup, plane_height, longest), map, effort, light);
    const auto sign = [&](LightMap::SignKind kind, const std::string& name, const Vec3& at, const Vec3& toward,
                          double width) {
        const double facing = degrees(std::atan2(static_cast<double>(toward.y), static_cast<double>(toward.x))).value;
        map.signs.push_back({name, static_cast<double>(at.x), static_cast<double>(at.y), kind, facing, width});
    };
    outline(setup.place, map);
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
