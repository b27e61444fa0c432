// The numbers that must be sure: which they are, how sure they have become, and what tells them from others.
#include "paths/measure.h"
#include "paths/plan.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

Wanted or_each(Wanted wanted, std::size_t meters) {
    std::erase_if(wanted, [](const auto& group) { return group.empty(); });
    if (wanted.empty())
        for (std::size_t m = 0; m < meters; ++m) wanted.push_back({m});
    return wanted;
}

Sharing sharing_for(const Scene& scene, std::uint64_t seed, std::uint32_t light_paths, std::uint32_t camera_paths) {
    Sharing sharing{light_paths, camera_paths, 1.0F};
    bool any = false;
    for (std::size_t i = 0; i < scene.lights.count(); ++i) any = any || scene.lights.start_chance(i) > 0;
    if (light_paths == 0 || !any) return Sharing::meters_alone(camera_paths);
    constexpr std::uint32_t pilots = 256;
    const LightPaths pilot = trace_light_paths(scene, stream_of(seed, 0x70696C6FU), 0, pilots, 1.0F);
    if (pilot.vertices.empty()) return Sharing::meters_alone(camera_paths);
    sharing.connection_samples = Sharing::worth_of_a_candidate * static_cast<float>(sharing.candidates) *
                                 static_cast<float>(pilots) / static_cast<float>(pilot.vertices.size());
    return sharing;
}

double error_reached(const MeterResults& results, const std::vector<MeterPoint>& meters, const Wanted& wanted,
                     double relative_error) {
    if (results.batches() == 0) return INFINITY;
    std::vector<Measured> means;
    std::vector<double> values;
    for (const auto& group : wanted) {
        means.push_back(results.all(group));
        values.push_back(means.back().value);
    }
    const std::vector<double> scales = scales_of(values, meters, wanted, relative_error);
    double largest = 0;
    for (std::size_t g = 0; g < wanted.size(); ++g) largest = std::max(largest, means[g].error / scales[g]);
    return largest;
}

void add_content(Content& content, const std::vector<MeterPoint>& meters, const Wanted& wanted,
                 const LastSurfaces* last_surfaces) {
    for (const MeterPoint& m : meters)
        content << m.kind << m.at << m.facing << m.spot_radius << m.expected << m.besides << m.enough;
    content << wanted.size();
    for (const auto& group : wanted) content << group;
    if (last_surfaces != nullptr) content << last_surfaces->names << last_surfaces->of_part << last_surfaces->beyond;
}

}  // namespace rushlight
