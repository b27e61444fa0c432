#include "results/frame/surface_guides.h"

#include "quantity/colour.h"
#include "scene/rays/camera_view.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace rushlight {

namespace {

constexpr float depth_of_hair = 0.03F;  // m
// Pixels that a point out of focus must span to be told from a sharp edge.
constexpr int least_blur = 3;
// Below this reflectance there is no telling light from surface.
constexpr float least_reflectance = 0.004F;

}  // namespace

Vec3 reflectance_seen(const Spectrum& albedo) {
    static const Tristimulus white = tristimulus(equal_energy());
    const Tristimulus t = tristimulus(albedo * equal_energy());
    return {static_cast<float>(t.x / white.x), static_cast<float>(t.y / white.y), static_cast<float>(t.z / white.z)};
}

float likeness(const Guide& a, const Guide& b) {
    float same = a.normal.dot(b.normal);
    if (same <= 0 || a.hair != b.hair) return 0;
    for (int i = 0; i < 5; ++i) same *= same;  // 32nd power: 12 degrees leave half
    const float off = a.normal.dot(b.position - a.position) / a.slack;
    const float near = 1.0F / (1.0F + off * off);
    return same * near * near;
}

Guide guide_of(const SurfaceSeen& seen, const Ray& ray) {
    const Vec3 reflectance = reflectance_seen(seen.albedo);
    if (!std::isfinite(seen.distance) || std::min({reflectance.x, reflectance.y, reflectance.z}) < least_reflectance)
        return {};
    Guide guide{ray.origin + ray.direction * seen.distance, seen.normal, 0.004F + 0.003F * seen.distance};
    guide.hair = seen.hair;
    if (guide.hair) guide.slack = depth_of_hair;
    return guide;
}

std::vector<Guide> guides_of(const LayeredFrame& frame) {
    const CameraView view(frame.camera, frame.width, frame.height);
    const ThinLens lens = frame.camera.thin_lens();
    std::vector<Guide> guides(frame.distance.size());
    for (int y = 0; y < frame.height; ++y)
        for (int x = 0; x < frame.width; ++x) {
            const std::size_t p = frame.at(x, y);
            guides[p] = guide_of({frame.normal[p], frame.distance[p], frame.albedo[p], frame.hair[p] != 0, false},
                                 view.ray(static_cast<float>(x) + 0.5F, static_cast<float>(y) + 0.5F));
            if (guides[p].slack <= 0 || p >= frame.mixed.size() || frame.mixed[p] == 0) continue;
            const double disc = lens.blur(static_cast<double>(frame.distance[p])) / frame.camera.sensor_width;
            const int spans = static_cast<int>(disc * frame.width);
            guides[p].blurred = spans >= least_blur ? spans : 0;
            guides[p].edge = true;
        }
    constexpr std::pair<int, int> beside[] = {{-1, 0}, {1, 0}, {0, -1}, {0, 1}};
    for (int y = 0; y < frame.height; ++y)
        for (int x = 0; x < frame.width; ++x) {
            Guide& here = guides[frame.at(x, y)];
            for (const auto& [i, j] : beside) {
                if (x + i < 0 || y + j < 0 || x + i >= frame.width || y + j >= frame.height) continue;
                const Guide& there = guides[frame.at(x + i, y + j)];
                const bool seen = here.slack > 0, both = seen && there.slack > 0;
                here.edge = here.edge || (both ? likeness(here, there) < 0.05F : seen || there.slack > 0);
            }
        }
    return guides;
}

}  // namespace rushlight
