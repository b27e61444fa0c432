#include "results/frames.h"

#include "paths/field.h"
#include "paths/workers.h"
#include "results/remarks.h"
#include "scene/camera_view.h"
#include "scene/first_seen.h"

#include <cmath>
#include <limits>

namespace rushlight {

namespace {

/// What the middle of each pixel looks at, through glass and nets.
void see_surfaces(const Scene& scene, const CameraView& view, LayeredFrame& frame, const Effort& effort) {
    for_each_piece(effort, static_cast<std::size_t>(frame.height), [&](std::size_t row) {
        for (int x = 0; x < frame.width; ++x) {
            const std::size_t p = frame.at(x, static_cast<int>(row));
            const Ray ray = view.ray(static_cast<float>(x) + 0.5F, static_cast<float>(row) + 0.5F);
            frame.distance[p] = std::numeric_limits<float>::infinity();
            frame.normal[p] = -ray.direction;
            const auto hit = first_seen(scene.rays, ray, looked_through);
            if (!hit) continue;
            const Surface& s = scene.rays.surface_of(*hit);
            frame.distance[p] = hit->distance;
            frame.normal[p] = hit->normal.dot(ray.direction) > 0 ? -hit->normal : hit->normal;
            frame.albedo[p] =
                s.matt * static_cast<float>(pi) + s.through * static_cast<float>(pi) + s.metal + Spectrum{s.coat};
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
    frame.camera = setup.rig.cameras.at(static_cast<std::size_t>(setup.camera));
    frame.setup = setup.name;
    frame.option = setup.option;
    const std::size_t pixels = static_cast<std::size_t>(width) * static_cast<std::size_t>(height);
    frame.normal.resize(pixels);
    frame.distance.resize(pixels);
    frame.albedo.resize(pixels);
    const CameraView view(frame.camera, width, height);
    see_surfaces(scene, view, frame, effort);

    const Camera& c = frame.camera;
    Content points;
    points << "frame" << width << height << c.at << c.look_at << c.roll << c.lens << c.sensor_width << c.sensor_height;
    Field field = light.field(
        scene, pixels, points, true,
        [&](std::size_t p, const LightPaths& pool, const Sharing& sharing, Sampler& sampler, std::span<Spectrum> layers,
            LightApart& apart) {
            const auto x = static_cast<float>(p % static_cast<std::size_t>(width)) + sampler.next();
            const auto y = static_cast<float>(p / static_cast<std::size_t>(width)) + sampler.next();
            collect_along(scene, view.ray(x, y), pool, sharing, sampler, layers, &apart);
        },
        effort);
    frame.layers = std::move(field.layers);
    frame.soft = std::move(field.soft);
    frame.bounced.assign(pixels, Vec3(0, 0, 0));
    for (const auto& of_source : field.bounced)
        for (std::size_t p = 0; p < pixels; ++p) frame.bounced[p] += of_source[p];
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
