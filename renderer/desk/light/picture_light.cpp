#include "desk/light/picture_light.h"

#include "desk/light/smoothed_layers.h"
#include "paths/field.h"
#include "paths/work/workers.h"
#include "quantity/content.h"
#include "quantity/exposure.h"
#include "results/frame/frames.h"
#include "results/frame/lens_filters.h"
#include "results/frame/map_points.h"

#include <half.h>

#include <algorithm>
#include <cmath>
#include <cstring>

namespace rushlight::desk {

namespace {

int height_for(int width, const Camera& c) {
    return std::clamp(static_cast<int>(std::lround(width * c.sensor_height / c.sensor_width)), 1, 4 * width);
}

/// The field as a frame whose layers hold what falls on the points.
LayeredFrame trace_map(const Setup& asked, const Scene& scene, const View& view, int width, const Effort& effort) {
    const MapPoints points = view.kind == View::Kind::plan
                                 ? points_on_plane(asked, Metre{view.height}, width)
                                 : points_in_view(asked, scene, width, height_for(width, *asked.its_camera()), effort);
    Field field = trace_field(
        scene, points.meters.size(), true,
        [&](std::size_t p, const LightPaths& pool, const Sharing& sharing, Sampler& sampler, std::span<Spectrum> layers,
            SplitLight&) {
            if (points.there[p]) collect_at_meter(scene, points.meters[p], pool, sharing, sampler, layers);
        },
        effort);
    LayeredFrame map;
    map.width = points.width;
    map.height = points.height;
    map.sources = scene.lights.sources();
    map.layers = std::move(field.layers);
    map.error = std::move(field.error);
    for (std::size_t p = 0; p < map.error.size() && p < points.there.size(); ++p)
        if (!points.there[p]) map.error[p] = NAN;
    map.seconds = field.seconds;
    map.paths_per_pixel = field.passes;
    map.noise = field.noise;
    return map;
}

void put(std::string& bytes, std::size_t at, float value) {
    constexpr float largest = 65504;
    const half h(std::isnan(value) ? value : std::clamp(value, 0.0F, largest));
    const std::uint16_t bits = h.bits();
    std::memcpy(bytes.data() + 2 * at, &bits, sizeof bits);
}

}  // namespace

std::string view_fingerprint(const Setup& asked, const View& view) {
    if (view.kind == View::Kind::none) return "";
    Content content;
    content << view.kind << view.width;
    if (view.kind == View::Kind::plan) return (content << view.height).fingerprint();
    if (!asked.its_camera()) return "";
    const Camera& c = *asked.its_camera();
    content << c.at << c.look_at << c.roll << c.lens << c.sensor_width << c.sensor_height;
    if (view.kind == View::Kind::frame) {
        const ThinLens lens = c.thin_lens();
        content << lens.f_number << lens.focus << c.polarizer.has_value() << c.polarizer.value_or(0) << c.mist.share
                << c.mist.core << c.mist.skirt << c.graduated.density << c.graduated.edge << c.graduated.blend
                << c.graduated.turn;
    }
    return content.fingerprint();
}

LayeredFrame trace_stage(const Setup& asked, const Scene& scene, const View& view, int part, const Effort& effort) {
    // With a great many sources a picture is smaller: memory has its bounds.
    constexpr std::uint64_t most_bytes = 400U << 20;
    int width = std::max(16, view.width / part);
    while (width > 16 && frame_bytes(width, width, scene.lights.count()) > most_bytes) width = std::max(16, width / 2);
    if (view.kind != View::Kind::frame) return trace_map(asked, scene, view, width, effort);
    return trace_frame(asked, scene, width, height_for(width, *asked.its_camera()), effort);
}

PackedPicture pack(const PictureLight& light, const Setup& asked, View::Kind kind, bool smoothed,
                   const Effort& effort) {
    const LayeredFrame& f = light.frame;
    const auto pixels = static_cast<std::size_t>(f.width) * static_cast<std::size_t>(f.height);
    const bool frame = kind == View::Kind::frame;
    PackedPicture packed;
    // Grey lands near one: ten stops and more on either side keep all the figures that half floats have.
    const double middle = frame ? grey_luminance(asked.exposure()).value / photometric(Spectrum{1.0F}) : 16.0;
    packed.scale = std::exp2(std::round(static_cast<float>(std::log2(middle))));
    packed.stages = light.stages;
    packed.width = f.width;
    if (light.packed.bytes && light.packed.stages == packed.stages && light.packed.scale == packed.scale)
        return light.packed;
    const float k = 1 / packed.scale;
    auto bytes = std::make_shared<std::string>();
    if (frame) {
        bytes->resize(2 * pixels * f.layers.size() * bands);
        std::size_t at = 0;
        auto layers = smoothed ? smoothed_layers(f, effort) : f.layers;
        for_each_piece(effort, layers.size(),
                       [&](std::size_t s) { through_filters(layers[s], f.width, f.height, *asked.its_camera()); });
        for (const auto& layer : layers)
            for (int plane = 0; plane < bands / 4; ++plane)
                for (std::size_t p = 0; p < pixels; ++p)
                    for (int b = 0; b < 4; ++b) put(*bytes, at++, layer[p][4 * plane + b] * k);
    } else {
        bytes->resize(2 * pixels * (f.layers.size() + 1));
        std::size_t at = 0;
        for (const auto& layer : f.layers)
            for (std::size_t p = 0; p < pixels; ++p)
                put(*bytes, at++, std::isnan(f.error[p]) ? NAN : photometric(layer[p]) * k);
        for (std::size_t p = 0; p < pixels; ++p) put(*bytes, at++, f.error[p] * k);
    }
    packed.bytes = std::move(bytes);
    return packed;
}

}  // namespace rushlight::desk
