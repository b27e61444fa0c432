#include "paths/pass.h"

#include "paths/walk/looks.h"

#include <algorithm>
#include <map>

namespace rushlight {

std::size_t layer_count(const Scene& scene, const LastSurfaces* last_surfaces) {
    return scene.lights.layers() * (last_surfaces != nullptr ? last_surfaces->names.size() : 1);
}

PassLight measure_pass(const Scene& scene, const std::vector<MeterPoint>& meters, const std::vector<Sharing>& sharing,
                       std::span<const std::size_t> taking_part, std::size_t passes, std::uint64_t stream,
                       const LastSurfaces* last_surfaces, const std::function<bool()>& given_up) {
    struct Pool {
        LightPaths paths;
        double rays = 0, meters = 0;  // that they took; that share them
    };
    const std::size_t sources = layer_count(scene, last_surfaces);
    PassLight pass;
    pass.light.assign(taking_part.size() * sources, Spectrum{});
    pass.work.reserve(taking_part.size());
    std::map<std::uint32_t, Pool> pools;  // by the number of their paths
    const auto in_all = [&](std::size_t m) {
        Sharing s = sharing[m];
        s.light_paths *= static_cast<std::uint32_t>(passes);
        s.camera_paths *= static_cast<std::uint32_t>(passes);
        return s;
    };
    std::vector<Spectrum> layers(sources);
    for (std::size_t i = 0; i < taking_part.size(); ++i) {
        if (given_up()) return {};
        const std::size_t m = taking_part[i];
        const Sharing s = in_all(m);
        const auto [pool, fresh] = pools.try_emplace(s.light_paths);
        std::uint64_t before = RayScene::rays_of_this_thread();
        if (fresh && s.light_paths > 0) {
            pool->second.paths = trace_light_paths(scene, stream_of(stream, 0), 0, s.light_paths, s.connection_samples);
            pool->second.rays = static_cast<double>(RayScene::rays_of_this_thread() - before);
            before = RayScene::rays_of_this_thread();
        }
        pool->second.meters += 1;
        const std::span<Spectrum> sum(&pass.light[i * sources], sources);
        double looks = 0;
        if (s.look_samples() > 0 && meters[m].kind != MeterKind::spot) {
            std::fill(layers.begin(), layers.end(), Spectrum{});
            look_at_light_paths(scene, meters[m], pool->second.paths, s,
                                Sampler(stream_of(stream, meters.size() + m + 1), 0), layers, last_surfaces);
            for (std::size_t l = 0; l < sources; ++l) sum[l] += layers[l] * (1.0F / static_cast<float>(s.light_paths));
            looks = static_cast<double>(pool->second.paths.vertices.size());
        }
        std::fill(layers.begin(), layers.end(), Spectrum{});
        const std::uint64_t walk_stream = stream_of(stream, m + 1);
        for (std::uint32_t w = 0; w < s.camera_paths; ++w)
            collect_at_meter(scene, meters[m], pool->second.paths, s, Sampler(walk_stream, w), layers, last_surfaces);
        for (std::size_t l = 0; l < sources; ++l) sum[l] += layers[l] * (1.0F / static_cast<float>(s.camera_paths));
        // Work is counted in rays, not in seconds, so that plans are the same on every run. A look that is not worth a
        // ray still costs about a quarter of one.
        pass.work.push_back(static_cast<double>(RayScene::rays_of_this_thread() - before) + 0.25 * looks);
    }
    for (std::size_t i = 0; i < taking_part.size(); ++i) {
        const Pool& pool = pools.at(in_all(taking_part[i]).light_paths);
        pass.work[i] += pool.rays / pool.meters;
    }
    return pass;
}

FirstWalks first_walks(const Scene& scene, const std::vector<MeterPoint>& meters, std::uint64_t seed) {
    constexpr std::uint32_t paths = 512;
    if (std::all_of(meters.begin(), meters.end(), [](const MeterPoint& m) { return m.kind == MeterKind::spot; }))
        return {};
    return {trace_light_paths(scene, stream_of(seed, 0x7061746368ULL), 0, paths, 1.0F), thrown_light(scene, seed)};
}

std::vector<MeterPoint> with_expectations(const Scene& scene, std::vector<MeterPoint> meters, const FirstWalks& first,
                                          const Effort& effort, std::vector<Sharing> sharing,
                                          const LastSurfaces* last_surfaces) {
    std::vector<std::size_t> all;
    for (std::size_t m = 0; m < meters.size(); ++m) {
        all.push_back(m);
        sharing[m].camera_paths = std::min(sharing[m].camera_paths, 16U);
        sharing[m].light_paths = std::min(sharing[m].light_paths, 64U);
    }
    const PassLight pass = measure_pass(scene, meters, sharing, all, 1, stream_of(effort.seed, 0x66697273U),
                                        last_surfaces, [&] { return effort.hurries(); });
    if (pass.light.empty()) return meters;
    const std::vector<LitPatch> patches = lit_patches(scene, first.paths);
    const std::size_t sources = layer_count(scene, last_surfaces);
    for (std::size_t m = 0; m < meters.size(); ++m) {
        MeterPoint& meter = meters[m];
        const std::vector<AimedCone> thrown =
            meter.kind == MeterKind::spot ? std::vector<AimedCone>{} : cones_against(first.thrown, meter);
        if (!(meter.expected > 0)) {
            meter.expected = meter.besides;
            for (std::size_t s = 0; s < sources; ++s) meter.expected += photometric(pass.light[m * sources + s]);
            for (const AimedCone& c : thrown) meter.expected = std::max(meter.expected, c.share);
        }
        meter.aims = cones_toward(patches, meter, thrown);
    }
    return meters;
}

}  // namespace rushlight
