#include "results/frames.h"

#include "paths/field.h"
#include "paths/workers.h"
#include "quantity/units.h"
#include "results/remarks.h"
#include "scene/camera_view.h"
#include "scene/first_seen.h"

#include <array>
#include <cmath>
#include <limits>

namespace rushlight {

namespace {

struct Seen {
    Vec3 normal{0, 0, 1};
    float distance = std::numeric_limits<float>::infinity();
    Spectrum albedo;
    bool hair = false;
    bool mixed = false;
};

Seen seen_along(const Scene& scene, const Ray& ray) {
    Seen seen;
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

/// What a pixel looks at, through glass and nets: along its middle, or as a mean over a lens that opens. A pixel that
/// mostly looks at nothing is at no distance.
Seen seen_by_pixel(const Scene& scene, const CameraView& view, float x, float y) {
    if (!view.opens()) return seen_along(scene, view.ray(x, y));
    // The middle and seven round it, each for an eighth of the opening.
    constexpr int around = 7;
    Seen mean;
    mean.normal = Vec3(0, 0, 0);
    float distance = 0;
    int hits = 0, hairs = 0;
    std::array<Seen, 1 + around> all;
    for (int i = 0; i <= around; ++i) {
        const float u = i == 0 ? 0.0F : 9.0F / 16;
        const Seen& one = all[static_cast<std::size_t>(i)] =
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
    for (const Seen& one : all)
        mean.mixed = mean.mixed || one.normal.dot(mean.normal) < 0.95F ||
                     !(std::abs(one.distance - mean.distance) < 0.05F * mean.distance);
    return mean;
}

void see_surfaces(const Scene& scene, const CameraView& view, LayeredFrame& frame, const Effort& effort) {
    for_each_piece(effort, static_cast<std::size_t>(frame.height), [&](std::size_t row) {
        for (int x = 0; x < frame.width; ++x) {
            const std::size_t p = frame.at(x, static_cast<int>(row));
            const Seen seen = seen_by_pixel(scene, view, static_cast<float>(x) + 0.5F, static_cast<float>(row) + 0.5F);
            frame.distance[p] = seen.distance;
            frame.normal[p] = seen.normal;
            frame.albedo[p] = seen.albedo;
            frame.hair[p] = seen.hair ? 1 : 0;
            if (view.opens()) frame.mixed[p] = seen.mixed ? 1 : 0;
        }
    });
}

}  // namespace

std::uint64_t frame_bytes(int width, int height, std::size_t sources) {
    const auto pixels = static_cast<std::uint64_t>(width) * static_cast<std::uint64_t>(height);
    return field_bytes(pixels, sources, true) + pixels * (3 * sizeof(Vec3) + 2 * sizeof(float) + sizeof(Spectrum));
}

LayeredFrame trace_frame(const Setup& setup, const Scene& scene, int width, int height, const Effort& effort,
                         KeptLight& light) {
    LayeredFrame frame;
    frame.width = width;
    frame.height = height;
    frame.sources = scene.lights.sources();
    frame.camera = *setup.its_camera();
    frame.setup = setup.name;
    frame.option = setup.option;
    const std::size_t pixels = static_cast<std::size_t>(width) * static_cast<std::size_t>(height);
    frame.normal.resize(pixels);
    frame.distance.resize(pixels);
    frame.albedo.resize(pixels);
    frame.hair.resize(pixels);
    const CameraView view(frame.camera, width, height);
    if (view.opens()) frame.mixed.resize(pixels);
    see_surfaces(scene, view, frame, effort);

    const bool polarizer = frame.camera.polarizer.has_value();
    const auto turn = static_cast<float>(frame.camera.polarizer.value_or(0) * pi / 180);
    const Vec3 passes = view.up() * std::cos(turn) - view.right() * std::sin(turn);
    const Camera& c = frame.camera;
    const ThinLens lens = c.thin_lens();
    Content points;
    points << "frame" << width << height << c.at << c.look_at << c.roll << c.lens << c.sensor_width << c.sensor_height
           << lens.f_number << lens.focus << polarizer << c.polarizer.value_or(0);
    Field field = light.field(
        scene, pixels, points, true,
        [&](std::size_t p, const LightPaths& pool, const Sharing& sharing, Sampler& sampler, std::span<Spectrum> layers,
            LightApart& apart) {
            const auto x = static_cast<float>(p % static_cast<std::size_t>(width)) + sampler.next();
            const auto y = static_cast<float>(p / static_cast<std::size_t>(width)) + sampler.next();
            const float u = view.opens() ? sampler.next() : 0.0F, v = view.opens() ? sampler.next() : 0.0F;
            const Ray ray = view.ray(x, y, u, v);
            if (!polarizer) return collect_along(scene, ray, pool, sharing, sampler, layers, &apart);
            // The filter is flat: it passes one way of swinging, the same for all the picture.
            const Analyser analyser(ray.direction, passes);
            collect_along(scene, ray, pool, sharing, sampler, layers, &apart, &analyser);
        },
        effort);
    frame.layers = std::move(field.layers);
    frame.soft = std::move(field.soft);
    frame.bounced.assign(pixels, Vec3(0, 0, 0));
    for (const auto& of_source : field.bounced)
        for (std::size_t p = 0; p < pixels; ++p) frame.bounced[p] += of_source[p];
    frame.bounced_of = std::move(field.bounced);
    frame.error = std::move(field.error);
    frame.seconds = field.seconds;
    frame.paths_per_pixel = field.passes;
    frame.noise = field.noise;
    remark_on_field(field.sources, field.cut_short, effort, frame.remarks);
    for (std::string& said : light.remarks()) frame.remarks.push_back(std::move(said));
    return frame;
}

LayeredFrame trace_frame(const Setup& setup, const Scene& scene, int width, int height, const Effort& effort) {
    KeptLight none;
    return trace_frame(setup, scene, width, height, effort, none);
}

}  // namespace rushlight
