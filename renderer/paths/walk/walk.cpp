#include "paths/walk/walk.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

std::optional<Hit> next_meeting(const RayScene& rays, Ray ray, Spectrum& throughput, Sampler& sampler, VeilPlan& plan) {
    float gone = 0;
    for (int veil = 0; veil < most_veils; ++veil) {
        auto hit = rays.first_hit(ray);
        if (!hit) return std::nullopt;
        hit->distance += gone;
        const Surface& surface = rays.surface_of(*hit);
        if (!surface.veil()) return hit;

        const float cosine = std::abs(hit->normal.dot(ray.direction));
        const int number = plan.met++;
        if (plan.scatter_at == VeilPlan::by_chance) {
            const float chance = surface.chance_to_pass(cosine);
            if (sampler.next() >= chance) {
                throughput *= 1.0F / (1.0F - chance);
                return hit;
            }
            plan.chance *= chance;
            throughput *= surface.straight_at(cosine) * (1.0F / chance);
        } else {
            if (plan.scatter_at == number) return hit;
            throughput *= surface.straight_at(cosine);
        }
        if (plan.analyser != nullptr && surface.pane) {
            const Fresnel passed = pane_of_each(cosine, surface.pane_index, surface.pane_transmittance).transmitted;
            throughput *= plan.analyser->look_through(passed, hit->normal.cross(ray.direction));
        }
        gone = hit->distance;
        ray.origin = lifted(hit->position, hit->normal, ray.direction, gone);
    }
    throughput = Spectrum{};
    return std::nullopt;
}

float survival_probability(int meetings, int patience, float share) {
    if (meetings < patience && share > 0.1F) return 1.0F;
    return std::clamp((patience > 0 ? 1.4F : 1.0F) * share, 0.05F, 0.97F);
}

}  // namespace rushlight
