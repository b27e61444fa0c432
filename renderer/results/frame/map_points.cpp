#include "results/frame/map_points.h"

#include "paths/work/workers.h"
#include "scene/rays/camera_view.h"
#include "scene/rays/first_seen.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

/// The numbers of what is seen: people, windows, and every other part by itself; nothing has the number 0.
class ThingsSeen {
public:
    explicit ThingsSeen(const Setup& setup, const Scene& scene)
        : people_(static_cast<std::uint16_t>(setup.rig.marks.size())) {
        things.emplace_back();
        for (const Mark& m : setup.rig.marks) things.push_back({m.name, true});
        for (std::uint32_t i = 0; i < scene.rays.part_count(); ++i) {
            const Part& part = scene.rays.part(i);
            const bool named = part.kind == PartKind::pane || part.kind == PartKind::furniture;
            // A window is named as the opening is, not as its glass.
            const std::string name = part.name.substr(0, part.name.find(", glass"));
            things.push_back({named ? name : "", part.kind != PartKind::outside});
        }
    }
    std::uint16_t of(const Part& part, std::uint32_t number) const {
        return static_cast<std::uint16_t>(part.mark >= 0 ? 1 + part.mark : 1 + people_ + static_cast<int>(number));
    }
    std::vector<LightMap::Thing> things;

private:
    std::uint16_t people_;
};

// A meter's receptor stands this far off the surface.
constexpr float off_the_surface = 1e-3F;
}  // namespace

MapPoints points_in_view(const Setup& setup, const Scene& scene, int width, int height, const Effort& effort) {
    MapPoints points;
    points.width = width;
    points.height = height;
    const CameraView view(*setup.its_camera(), width, height);
    const std::size_t pixels = static_cast<std::size_t>(width) * static_cast<std::size_t>(height);
    points.meters.resize(pixels);
    points.there.assign(pixels, 0);
    points.shade.assign(pixels, 0.0F);
    points.thing.assign(pixels, 0);
    ThingsSeen seen(setup, scene);
    for_each_piece(effort, static_cast<std::size_t>(height), [&](std::size_t row) {
        for (int x = 0; x < width; ++x) {
            const std::size_t p = row * static_cast<std::size_t>(width) + static_cast<std::size_t>(x);
            const Ray ray = view.ray(static_cast<float>(x) + 0.5F, static_cast<float>(row) + 0.5F);
            if (const auto first = scene.rays.first_hit(ray))
                points.thing[p] = seen.of(scene.rays.part(first->part), first->part);
            const auto hit = first_seen(scene.rays, ray, looked_through);
            if (!hit || scene.rays.part(hit->part).light >= 0) continue;
            const Vec3 facing = hit->normal.dot(ray.direction) > 0 ? -hit->normal : hit->normal;
            points.meters[p] = {MeterKind::flat, hit->position + facing * off_the_surface, facing, 0};
            points.there[p] = 1;
            // A plain picture to lay the colours on: lit from the camera.
            points.shade[p] = std::clamp(0.35F + 0.65F * -facing.dot(ray.direction), 0.0F, 1.0F);
        }
    });
    points.things = std::move(seen.things);
    return points;
}

MapPoints points_on_plane(const Setup& setup, Metre plane_height, int longest) {
    MapPoints points;
    const Vec3 lower = setup.place.lower;
    const Vec3 size = setup.place.upper - lower;
    points.metres_per_pixel = static_cast<double>(std::max(size.x, size.y)) / longest;
    points.width = std::max(1, static_cast<int>(std::lround(static_cast<double>(size.x) / points.metres_per_pixel)));
    points.height = std::max(1, static_cast<int>(std::lround(static_cast<double>(size.y) / points.metres_per_pixel)));
    points.origin_x = static_cast<double>(lower.x);
    points.origin_y = static_cast<double>(lower.y);
    for (int row = 0; row < points.height; ++row)
        for (int x = 0; x < points.width; ++x) {
            const double px = points.origin_x + (x + 0.5) * points.metres_per_pixel;
            const double py = points.origin_y + (points.height - row - 0.5) * points.metres_per_pixel;
            points.meters.push_back(
                {MeterKind::flat,
                 {static_cast<float>(px), static_cast<float>(py), static_cast<float>(plane_height.value)},
                 {0, 0, 1},
                 0});
        }
    points.there.assign(points.meters.size(), 1);
    return points;
}

}  // namespace rushlight
