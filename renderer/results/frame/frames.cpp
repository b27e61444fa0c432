#include "results/frame/frames.h"

#include "paths/field.h"
#include "quantity/units.h"
#include "results/frame/surfaces_seen.h"
#include "results/light/remarks.h"
#include "results/network/network.h"
#include "scene/rays/camera_view.h"

namespace rushlight {

std::uint64_t frame_bytes(int width, int height, std::size_t sources) {
    const auto pixels = static_cast<std::uint64_t>(width) * static_cast<std::uint64_t>(height);
    return field_bytes(pixels, sources, true) + pixels * (3 * sizeof(Vec3) + 3 * sizeof(float) + sizeof(Spectrum)) +
           most_fringes(pixels) * sizeof(Fringe);
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
    const CameraView view(frame.camera, width, height);
    see_surfaces(scene, view, frame, effort);

    const bool polarizer = frame.camera.polarizer.has_value();
    const auto turn = static_cast<float>(radians(Degree{frame.camera.polarizer.value_or(0)}));
    const Vec3 passes = view.up() * std::cos(turn) - view.right() * std::sin(turn);
    const Camera& c = frame.camera;
    const ThinLens lens = c.thin_lens();
    Content points;
    points << "frame" << width << height << c.at << c.look_at << c.roll << c.lens << c.sensor_width << c.sensor_height
           << lens.f_number << lens.focus << polarizer << c.polarizer.value_or(0);
    Field field = light.field(
        scene, pixels, points, true,
        [&](std::size_t p, const LightPaths& pool, const Sharing& sharing, Sampler& sampler, std::span<Spectrum> layers,
            SplitLight& split) {
            const auto x = static_cast<float>(p % static_cast<std::size_t>(width)) + sampler.next();
            const auto y = static_cast<float>(p / static_cast<std::size_t>(width)) + sampler.next();
            const float u = view.opens() ? sampler.next() : 0.0F, v = view.opens() ? sampler.next() : 0.0F;
            const Ray ray = view.ray(x, y, u, v);
            if (!polarizer) return collect_along(scene, ray, pool, sharing, sampler, layers, &split);
            // The filter is flat: it passes one way of swinging, the same for all the picture.
            const Analyser analyser(ray.direction, passes);
            collect_along(scene, ray, pool, sharing, sampler, layers, &split, &analyser);
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
    if (std::string said = network_remark(); !said.empty()) frame.remarks.push_back(std::move(said));
    for (std::string& said : light.remarks()) frame.remarks.push_back(std::move(said));
    return frame;
}

LayeredFrame trace_frame(const Setup& setup, const Scene& scene, int width, int height, const Effort& effort) {
    KeptLight none;
    return trace_frame(setup, scene, width, height, effort, none);
}

}  // namespace rushlight
