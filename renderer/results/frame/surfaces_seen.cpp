#include "results/frame/surfaces_seen.h"

#include "paths/work/workers.h"
#include "quantity/units.h"
#include "results/frame/surface_guides.h"
#include "scene/rays/first_seen.h"

#include <cmath>

namespace rushlight {

namespace {

SurfaceSeen seen_along(const Scene& scene, const Ray& ray) {
    SurfaceSeen seen;
    seen.normal = -ray.direction;
    const auto hit = first_seen(scene.rays, ray, looked_through);
    if (!hit) return seen;
    const Surface& s = scene.rays.surface_of(*hit);
    seen.distance = hit->distance;
    seen.normal = hit->normal.dot(ray.direction) > 0 ? -hit->normal : hit->normal;
    if (s.fibre) {  // hair has no one way that it faces; its light is smoothed with that of the hair around
        seen.normal = -ray.direction;
        seen.albedo = Spectrum{0.5F};
        seen.hair = true;
        return seen;
    }
    seen.albedo = s.matt * static_cast<float>(pi) + s.through * static_cast<float>(pi) + s.metal + Spectrum{s.coat};
    return seen;
}

/// The surface that a pixel sees through glass and nets: along its middle, or as a mean over a lens that opens. A pixel
/// that mostly looks at nothing is at no distance.
SurfaceSeen seen_by_pixel(const Scene& scene, const CameraView& view, float x, float y) {
    if (!view.opens()) return seen_along(scene, view.ray(x, y));
    // The middle and seven round it, each for an eighth of the opening.
    constexpr int around = 7;
    SurfaceSeen mean;
    mean.normal = Vec3(0, 0, 0);
    float distance = 0;
    int hits = 0, hairs = 0;
    std::array<SurfaceSeen, 1 + around> all;
    for (int i = 0; i <= around; ++i) {
        const float u = i == 0 ? 0.0F : 9.0F / 16;
        const SurfaceSeen& one = all[static_cast<std::size_t>(i)] =
            seen_along(scene, view.ray(x, y, u, static_cast<float>(i) / around));
        mean.normal += one.normal;
        if (!std::isfinite(one.distance)) continue;
        distance += one.distance;
        mean.albedo += one.albedo;
        hairs += one.hair;
        ++hits;
    }
    mean.albedo *= 1.0F / (1 + around);
    mean.hair = 2 * hairs > around;
    if (mean.normal.length2() < 1e-6F) mean.normal = -view.forward();
    mean.normal.normalize();
    if (2 * hits > around) mean.distance = distance / static_cast<float>(hits);
    for (const SurfaceSeen& one : all)
        mean.mixed = mean.mixed || one.normal.dot(mean.normal) < 0.95F ||
                     !(std::abs(one.distance - mean.distance) < 0.05F * mean.distance);
    return mean;
}

/// Where the parts of a fringe look: even over the pixel, and over the lens.
struct InPixel {
    float x, y, u, v;
};
InPixel in_pixel(std::size_t part) {
    const auto turned = [](std::size_t i, unsigned base) {  // radical inverse
        float value = 0, share = 1;
        for (; i > 0; i /= base) {
            share /= static_cast<float>(base);
            value += share * static_cast<float>(i % base);
        }
        return value;
    };
    const float count = static_cast<float>(Fringe{}.parts.size());
    return {(static_cast<float>(part) + 0.5F) / count, turned(part, 2) + 0.5F / count, turned(part, 3),
            turned(part, 5)};
}

}  // namespace

std::size_t most_fringes(std::size_t pixels) {
    return pixels / 5;
}

void see_surfaces(const Scene& scene, const CameraView& view, LayeredFrame& frame, const Effort& effort) {
    const std::size_t pixels = static_cast<std::size_t>(frame.width) * static_cast<std::size_t>(frame.height);
    frame.normal.resize(pixels);
    frame.distance.resize(pixels);
    frame.albedo.resize(pixels);
    frame.hair.resize(pixels);
    if (view.opens()) frame.mixed.resize(pixels);
    for_each_piece(effort, static_cast<std::size_t>(frame.height), [&](std::size_t row) {
        for (int x = 0; x < frame.width; ++x) {
            const std::size_t p = frame.at(x, static_cast<int>(row));
            const SurfaceSeen seen =
                seen_by_pixel(scene, view, static_cast<float>(x) + 0.5F, static_cast<float>(row) + 0.5F);
            frame.distance[p] = seen.distance;
            frame.normal[p] = seen.normal;
            frame.albedo[p] = seen.albedo;
            frame.hair[p] = seen.hair ? 1 : 0;
            if (view.opens()) frame.mixed[p] = seen.mixed ? 1 : 0;
        }
    });
    const std::vector<Guide> guides = guides_of(frame);
    for (std::size_t p = 0; p < pixels && frame.fringes.size() < most_fringes(pixels); ++p)
        if (guides[p].edge && guides[p].blurred == 0) frame.fringes.push_back({p, {}});
    constexpr std::size_t piece = 256;
    for_each_piece(effort, (frame.fringes.size() + piece - 1) / piece, [&](std::size_t number) {
        const std::size_t end = std::min(frame.fringes.size(), (number + 1) * piece);
        for (std::size_t i = number * piece; i < end; ++i) {
            Fringe& fringe = frame.fringes[i];
            const auto x = static_cast<float>(fringe.pixel % static_cast<std::size_t>(frame.width));
            const auto y = static_cast<float>(fringe.pixel / static_cast<std::size_t>(frame.width));
            for (std::size_t part = 0; part < fringe.parts.size(); ++part) {
                const InPixel at = in_pixel(part);
                fringe.parts[part] = seen_along(scene, view.ray(x + at.x, y + at.y, at.u, at.v));
            }
        }
    });
}

}  // namespace rushlight
