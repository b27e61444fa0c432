#include "paths/walk/light_paths.h"

#include "paths/walk/aim.h"
#include "paths/walk/images.h"
#include "paths/walk/walk.h"

#include <cmath>

namespace rushlight {

namespace {

constexpr int patience = 3;

/// A ray of the sun that starts at a mirror: turned there, and weighed with those that come to the same mirror by the
/// windows, of which each is mirrored by `plan.last.chance` only. False where there is no mirror.
bool start_at_mirror(const Scene& scene, const Lights::Start& start, Spectrum& throughput, float& pdf, Ray& ray,
                     VeilPlan& plan) {
    const FlatFace& face = scene.mirrors[static_cast<std::size_t>(start.mirror)].face;
    const Vec3& at = start.ray.origin;
    const Vec3& normal = face.rectangle.normal;
    const Vec3 toward = -start.ray.direction;
    if (!face.whole) {
        const auto met = scene.rays.first_hit(Ray{at + toward * 1e-3F, start.ray.direction, 2e-3F});
        if (!met || met->part != face.part) return false;
    }
    const float cosine = std::abs(normal.dot(toward));
    const Surface& surface = scene.rays.surface(scene.rays.part(face.part).surface);
    const float chance = surface.chances(cosine).mirror;
    Hit end;
    end.position = start.ray.from_outside->origin;
    pdf = emission_pdf_by(scene, start.light, start.mirror, chance, end, start.ray.direction);
    throughput = start.ray.throughput * surface.mirrored_at(cosine) * (1.0F / (pdf * chance));
    ray.direction = face.mirrored(start.ray.direction).normalized();
    ray.origin = lifted(at, normal, ray.direction, 1.0F);
    plan.folds = 1;
    plan.chance = chance;
    plan.first = plan.last = {start.mirror, chance};
    return true;
}

}  // namespace

std::optional<SetOut> set_out(const Scene& scene, Sampler& sampler) {
    // A light, and a ray of it.
    std::array<float, 5> u{};
    for (float& x : u) x = sampler.next();
    const float choice = sampler.next();
    SetOut out;
    out.start = scene.lights.emitted(choice, u);
    const EmittedRay& emitted = out.start.ray;
    if (!(emitted.pdf > 0)) return std::nullopt;
    out.throughput = emitted.throughput;
    out.emission_pdf = emitted.pdf;
    out.ray = Ray{emitted.origin + emitted.direction * 1e-5F, emitted.direction};
    if (out.start.mirror >= 0 &&
        !start_at_mirror(scene, out.start, out.throughput, out.emission_pdf, out.ray, out.plan))
        return std::nullopt;
    if (emitted.from_outside) {
        if (!scene.rays.passes(*emitted.from_outside, out.throughput, -1, &out.from_outside)) return std::nullopt;
        if (sampler.next() >= out.from_outside) return std::nullopt;
        out.throughput *= 1.0F / out.from_outside;
    }
    if (out.throughput.dark()) return std::nullopt;
    return out;
}

float worth_at_first_mirror(const Scene& scene, const SetOut& out, const VeilPlan::Fold& first, float& emission_pdf) {
    if (out.start.mirror >= 0) return 1;
    const float by_windows = emission_pdf;
    emission_pdf +=
        scene.lights.emission_pdf_at_mirror(out.start.light, first.mirror, out.start.ray.direction) / first.chance;
    return by_windows / emission_pdf;
}

namespace {

void trace_light_path(const Scene& scene, const Aim& aim, Sampler sampler, float connection_samples,
                      std::vector<float>& chances, LightPaths& pool) {
    const auto out = set_out(scene, sampler);
    if (!out) return;
    const Lights::Start& start = out->start;
    const EmittedRay& emitted = start.ray;
    Spectrum throughput = out->throughput;
    float emission_pdf = out->emission_pdf;
    Ray ray = out->ray;
    VeilPlan plan = out->plan;

    const auto layer = static_cast<std::uint32_t>(scene.lights.layer(start.light, -emitted.direction));
    Vertex last;
    float pdf = 0;          // of the direction, per steradian
    float others_last = 0;  // weight_of_others at the last vertex
    for (int meetings = 0;; ++meetings) {
        const Vec3 leaving = ray.direction;
        const auto hit = next_meeting(scene, ray, throughput, sampler, plan);
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
            float asked = 0;
            if (plan.folds == 0) {
                scene.lights.chances(v.position, chances);
                asked = chances[start.light] * scene.lights.incoming_pdf(start.light, v.position, end, v.from);
            } else if (plan.folds == 1) {
                const ImageAsks asks{scene.lights.chances(v.position, chances), 1.0F};
                asked = image_pdf(scene, plan.first.mirror, start.light, v.position, asks, end, -emitted.direction);
            }
            if (plan.folds > 0) {
                throughput *= worth_at_first_mirror(scene, *out, plan.first, emission_pdf);
                v.throughput = throughput;
                v.light = photometric(throughput);
            }
            v.before = 1.0F / (emission_pdf * cosine);
            v.here = asked * v.before / (out->from_outside * plan.chance);
        } else {
            const float reach = 1.0F / (pdf * cosine);  // d^2 / (pdf of this vertex)
            if (plan.folds == 0)                        // nobody joins over a mirror
                v.here = connection_samples * reach * v.distance * v.distance / plan.chance;
            v.before = reach * last.cosine(leaving) * others_last;
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
        plan = VeilPlan{};
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
