#include "results/readings/view_spots.h"

#include "scene/rays/first_seen.h"

#include <cmath>

namespace rushlight {

namespace {

constexpr float one_degree = 0.0087F;  // tangent of half of it
constexpr float at_the_glass = 0.01F;  // m; what is met before it hides the view, but for the opening's own curtain
constexpr float least_cosine = 0.05F;  // no view edge-on, nor from outside

/// Places of a grid over the hole that nothing hides from `from`, nine of them at most.
std::vector<MeterPoint> spots_on(const std::string& name, const Rectangle& hole, const Vec3& from,
                                 const CameraView* view, const Scene& scene) {
    constexpr int grid = 7;
    std::vector<MeterPoint> seen;
    for (int i = 0; i < grid; ++i)
        for (int j = 0; j < grid; ++j) {
            const Vec3 p = hole.at((static_cast<float>(i) + 0.5F) / grid, (static_cast<float>(j) + 0.5F) / grid);
            const float distance = (p - from).length();
            const Vec3 toward = (p - from) / distance;
            float x = 0, y = 0;
            if (hole.normal.dot(toward) >= -least_cosine) continue;
            if (view != nullptr && (!view->project(p, x, y) || !view->in_picture(x, y))) continue;
            const auto hit = first_seen(scene.rays, Ray{from, toward}, looked_through);
            if (hit && hit->distance < distance - at_the_glass && scene.rays.part(hit->part).name != name + ", curtain")
                continue;
            seen.push_back({MeterKind::spot, from, toward, one_degree});
        }
    constexpr std::size_t enough = 9;
    std::vector<MeterPoint> some;
    const std::size_t count = std::min(enough, seen.size());
    for (std::size_t k = 0; k < count; ++k) some.push_back(seen[k * seen.size() / count]);
    return some;
}

std::vector<ViewSpots> spots_from(const Setup& setup, const Scene& scene, const Vec3& from, const CameraView* view) {
    std::vector<ViewSpots> all;
    const auto& named = setup.place.room.openings;
    const auto& holes = scene.holes->rectangles;
    for (std::size_t i = 0; i < holes.size(); ++i) {
        const bool has_name = setup.place.has_room && i < named.size();
        const std::string name = has_name ? named[i].name : "opening " + std::to_string(i + 1);
        if (auto spots = spots_on(name, holes[i], from, view, scene); !spots.empty())
            all.push_back({name, std::move(spots)});
    }
    return all;
}

}  // namespace

std::vector<ViewSpots> views_in_frame(const Setup& setup, const Scene& scene, const CameraView& view) {
    return spots_from(setup, scene, view.at(), &view);
}

std::vector<ViewSpots> view_spots(const Setup& setup, const Scene& scene) {
    if (setup.camera >= 0) {
        auto all = views_in_frame(setup, scene, CameraView::for_asking(*setup.its_camera()));
        if (!all.empty()) return all;
    }
    const Vec3 from =
        scene.figures.empty() ? (setup.place.lower + setup.place.upper) * 0.5F : scene.figures.front().front.at;
    return spots_from(setup, scene, from, nullptr);
}

}  // namespace rushlight
