#include "results/view_spots.h"

#include "scene/camera_view.h"
#include "scene/first_seen.h"
#include "scene/room.h"

#include <cmath>

namespace rushlight {

namespace {

constexpr float one_degree = 0.0087F;  // tangent of half of it

/// The view through `hole` from `from`: places of a grid over it between which nothing stands.
std::vector<MeterPoint> spots_on(const Rectangle& hole, const Vec3& from, const CameraView* view, const Scene& scene) {
    constexpr int grid = 7;
    std::vector<MeterPoint> seen;
    for (int i = 0; i < grid; ++i)
        for (int j = 0; j < grid; ++j) {
            const Vec3 p = hole.at((static_cast<float>(i) + 0.5F) / grid, (static_cast<float>(j) + 0.5F) / grid);
            const Vec3 toward = (p - from).normalized();
            float x = 0;
            float y = 0;
            if (hole.normal.dot(toward) >= -0.05F) continue;  // edge-on, or from outside
            if (view != nullptr && (!view->project(p, x, y) || !view->in_picture(x, y))) continue;
            const auto hit = first_seen(scene.rays, Ray{from, toward}, looked_through);
            if (hit && hit->distance < (p - from).length() * 0.999F) continue;
            seen.push_back({MeterKind::spot, from, toward, one_degree});
        }
    constexpr std::size_t enough = 9;
    std::vector<MeterPoint> some;
    const std::size_t count = std::min(enough, seen.size());
    for (std::size_t k = 0; k < count; ++k) some.push_back(seen[k * seen.size() / count]);
    return some;
}

}  // namespace

std::vector<ViewSpots> view_spots(const Setup& setup, const Scene& scene) {
    std::vector<std::pair<std::string, Rectangle>> holes;
    if (setup.place.has_room)
        for (const Opening& o : setup.place.room.openings)
            holes.emplace_back(o.name, opening_rectangle(setup.place.room, o));
    else
        for (std::size_t i = 0; i < scene.holes->portals.size(); ++i)
            holes.emplace_back("opening " + std::to_string(i + 1), scene.holes->portals[i]);

    std::vector<ViewSpots> all;
    if (setup.camera >= 0) {
        const CameraView view(*setup.its_camera(), 1600, 900);
        for (const auto& [name, hole] : holes)
            if (auto spots = spots_on(hole, view.at(), &view, scene); !spots.empty())
                all.push_back({name, true, std::move(spots)});
    }
    if (!all.empty()) return all;
    const Vec3 from =
        scene.figures.empty() ? (setup.place.lower + setup.place.upper) * 0.5F : scene.figures.front().front.at;
    for (const auto& [name, hole] : holes)
        if (auto spots = spots_on(hole, from, nullptr, scene); !spots.empty())
            all.push_back({name, false, std::move(spots)});
    return all;
}

}  // namespace rushlight
