#include "paths/walk/light_paths.h"

#include "paths/walk/aim.h"
#include "paths/walk/walk.h"

#include <cmath>

namespace rushlight {

namespace {

constexpr int patience = 3;

void trace_light_path(const Scene& scene, const Aim& aim, Sampler sampler, float connection_samples,
                      std::vector<float>& chances, LightPaths& pool) {
    // A light, and a ray of it.
    std::array<float, 5> u{};
    for (float& x : u) x = sampler.next();
    const float choice = sampler.next();
    const Lights::Start start = scene.lights.emitted(choice, u);
    const EmittedRay& emitted = start.ray;
    if (!(emitted.pdf > 0)) return;
    Spectrum throughput = emitted.throughput;
    float from_outside = 1;  // chance of having come through the glass, as a walk that goes out has
    if (emitted.from_outside) {
        if (!scene.rays.passes(*emitted.from_outside, throughput, -1, &from_outside)) return;
        if (sampler.next() >= from_outside) return;
        throughput *= 1.0F / from_outside;
    }
    if (throughput.dark()) return;

    const auto layer = static_cast<std::uint32_t>(scene.lights.layer(start.light, -emitted.direction));
    Ray ray{emitted.origin + emitted.direction * 1e-5F, emitted.direction};
    Vertex last;
    float pdf = 0;          // of the direction, per steradian
    float others_last = 0;  // weight_of_others at the last vertex
    for (int meetings = 0;; ++meetings) {
        VeilPlan plan;
        const auto hit = next_meeting(scene.rays, ray, throughput, sampler, plan);
        if (!hit || scene.rays.part(hit->part).light >= 0) return;

        Vertex v(scene.rays, *hit, ray.direction, throughput);
        // A fibre is met as a ribbon that faces the ray, so what it sees depends on where the ray comes from. Only
        // walks from the meter turn it as the meter sees it. A walk from here would find other neighbours in the way,
        // and light would be lost between the two.
        if (v.is_fibre()) return;
        v.light = photometric(throughput);
        const float cosine = v.cosine(v.from);
        if (cosine < 1e-6F || throughput.dark()) return;
        if (meetings == 0) {
            // Other ways to this first leg: a walk from v meets the light (pdf `back`), or asks for it.
            Hit end;
            end.position = emitted.origin;
            end.primitive = emitted.primitive;
            end.distance = v.distance;
            scene.lights.chances(v.position, chances);
            const float asked = chances[start.light] * scene.lights.incoming_pdf(start.light, v.position, end, v.from);
            v.before = 1.0F / (emitted.pdf * cosine);
            v.here = asked * v.before / (from_outside * plan.chance);
        } else {
            const float reach = 1.0F / (pdf * cosine);  // d^2 / (pdf of this vertex)
            v.here = connection_samples * reach * v.distance * v.distance / plan.chance;
            v.before = reach * last.cosine(ray.direction) * others_last;
        }
        pool.vertices.push_back(v);
        pool.layers.push_back(layer);

        const float u0 = sampler.next(), u1 = sampler.next(), u2 = sampler.next();
        const auto bounce = v.bounce_to_eye(u0, u1, u2);
        if (!bounce) return;
        const float goes_on = survival_probability(meetings, patience, v.surface->largest_share());
        if (goes_on < 1.0F && sampler.next() >= goes_on) return;
        throughput *= bounce->weight * (1.0F / goes_on);
        pdf = bounce->pdf;
        others_last = v.weight_of_others(aim.pdf(v, bounce->to, v.from));
        ray = Ray{v.lifted_to(bounce->to), bounce->to};
        last = v;
    }
}

}  // namespace

LightPaths trace_light_paths(const Scene& scene, std::uint64_t stream, std::uint32_t first, std::uint32_t count,
                             float connection_samples) {
    LightPaths pool;
    pool.paths = count;
    pool.vertices.reserve(static_cast<std::size_t>(count) * 4);
    pool.layers.reserve(static_cast<std::size_t>(count) * 4);
    std::vector<float> chances(scene.lights.count());
    const Aim aim(scene);
    for (std::uint32_t i = 0; i < count; ++i)
        trace_light_path(scene, aim, Sampler(stream, first + i), connection_samples, chances, pool);
    return pool;
}

}  // namespace rushlight
