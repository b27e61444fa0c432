#include "scene/gets_in.h"

#include "scene/rays/first_seen.h"
#include "scene/surface/chance.h"

#include <algorithm>
#include <optional>

namespace rushlight {

namespace {

/// How far it is to the first opening that the ray goes through.
std::optional<float> to_an_opening(const Scene& scene, const Ray& ray) {
    std::optional<float> nearest;
    for (const Rectangle& hole : scene.holes->rectangles)
        if (const auto crossing = hole.crossed_by(ray.origin, ray.direction))
            nearest = std::min(nearest.value_or(crossing->distance), crossing->distance);
    return nearest;
}

}  // namespace

float share_that_gets_in(const Scene& scene, std::size_t light) {
    constexpr std::uint32_t rays = 512;
    constexpr float slack = 1e-3F;  // m
    float all = 0, in = 0;
    for (std::uint32_t i = 0; i < rays; ++i) {
        std::array<float, 5> u{};
        for (std::uint32_t d = 0; d < u.size(); ++d) u[d] = chance(i, d);
        const EmittedRay emitted = scene.lights.emitted_by(light, u);
        if (!(emitted.pdf > 0)) continue;
        const float flux = photometric(emitted.throughput);
        all += flux;
        const Ray ray{emitted.origin + emitted.direction * 1e-5F, emitted.direction};
        const auto opening = to_an_opening(scene, ray);
        if (!opening) continue;
        const auto hit = first_seen(scene.rays, ray, [](const Part&, const Surface& s) { return s.veil(); });
        if (hit && hit->distance > *opening - slack && scene.holes->inside(hit->position)) in += flux;
    }
    return all > 0 ? in / all : 1.0F;
}

}  // namespace rushlight
