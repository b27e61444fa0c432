#include "paths/walk/walk.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

/// Turns the ray where it met a sharp mirror, for the share that is mirrored there over `chance`.
void fold(const Scene& scene, const Hit& hit, float gone, float cosine, float chance, Ray& ray, Spectrum& throughput,
          VeilPlan& plan) {
    const Surface& surface = scene.rays.surface_of(hit);
    throughput *= surface.mirrored_at(cosine) * (1.0F / chance);
    if (plan.analyser != nullptr && (surface.pane || surface.metal_share <= 0)) {
        const Fresnel shares = surface.pane
                                   ? pane_of_each(cosine, surface.pane_index, surface.pane_transmittance).reflected
                                   : fresnel_of_each(cosine, surface.coat_index);
        const Vec3 along = hit.normal.cross(ray.direction);
        throughput *= plan.analyser->of(shares, along.length2() > 0 ? along : Vec3(1, 0, 0).cross(ray.direction));
    }
    plan.analyser = nullptr;  // light that falls on what is seen last counts as unpolarised
    ray.direction = (ray.direction - hit.normal * (2.0F * hit.normal.dot(ray.direction))).normalized();
    ray.origin = lifted(hit.position, hit.normal, ray.direction, gone);
    plan.last = {scene.mirror_at(hit), chance};
    if (plan.folds++ == 0) plan.first = plan.last;
}

}  // namespace

std::optional<Hit> next_meeting(const Scene& scene, Ray& ray, Spectrum& throughput, Sampler& sampler, VeilPlan& plan) {
    constexpr int free_folds = 4;  // mirrors face to face would else send a walk to and fro for ever
    Ray way = ray;
    float gone = 0;
    for (int veil = 0; veil < most_veils; ++veil) {
        auto hit = scene.rays.first_hit(way);
        if (!hit) return std::nullopt;
        hit->distance += gone;
        // No veil or sharp mirror has a pattern: its first tone is all of it.
        const Surface& surface = scene.rays.surface(scene.rays.part(hit->part).surface);
        if (!surface.veil() && !surface.sharp()) return hit;

        const float cosine = std::abs(hit->normal.dot(way.direction));
        const Surface::Chances by_chance = surface.chances(cosine);
        const bool planned = plan.scatter_at != VeilPlan::by_chance && surface.veil();
        const int number = plan.met;
        plan.met += surface.veil() ? 1 : 0;
        float pass = by_chance.pass, mirror = by_chance.mirror;
        if (planned) {
            const bool passes = plan.scatter_at != number;
            const float rest = 1.0F - by_chance.pass;
            pass = passes ? 1.0F : 0.0F;
            mirror = passes || !(rest > 0) ? 0.0F : by_chance.mirror / rest;
        }
        // What is certain costs no random number.
        if (mirror > 0 && 1.0F - pass - mirror < 1e-6F) mirror = 1.0F - pass;  // by rounding alone
        const bool open = pass < 1.0F && mirror < 1.0F && (pass > 0 || mirror > 0);
        const float u = open ? sampler.next() : 0.0F;
        if (pass > 0 && u < pass) {
            plan.chance *= pass;
            throughput *= surface.straight_at(cosine) * (1.0F / pass);
            if (plan.analyser != nullptr && surface.pane) {
                const Fresnel passed = pane_of_each(cosine, surface.pane_index, surface.pane_transmittance).transmitted;
                throughput *= plan.analyser->look_through(passed, hit->normal.cross(way.direction));
            }
            gone = hit->distance;
            way.origin = lifted(hit->position, hit->normal, way.direction, gone);
            continue;
        }
        if (!(mirror > 0 && u < pass + mirror)) {
            throughput *= 1.0F / (1.0F - pass - mirror);
            return hit;
        }
        fold(scene, *hit, hit->distance, cosine, mirror, way, throughput, plan);
        plan.chance *= mirror;
        // Veils behind a turn that another walk may not take cannot be numbered.
        if (planned || mirror < 1.0F) plan.scatter_at = VeilPlan::by_chance;
        gone = hit->distance;
        ray = way;
        if (plan.folds > free_folds) {
            const float goes_on = surface.mirrored_at(cosine).largest();
            if (sampler.next() >= goes_on) break;
            throughput *= 1.0F / goes_on;
        }
    }
    throughput = Spectrum{};
    return std::nullopt;
}

float survival_probability(int meetings, int patience, float share) {
    if (meetings < patience && share > 0.1F) return 1.0F;
    return std::clamp((patience > 0 ? 1.4F : 1.0F) * share, 0.05F, 0.97F);
}

}  // namespace rushlight
