#include "paths/put_down.h"

#include <cmath>

namespace rushlight {

namespace {
constexpr float height = 0.003F;  // m, of the middle of a disc or dome: common practice, no source
// Cosines: a surface counts as lain on when it is square to the way off it, give or take 45 degrees.
constexpr float square_on = 0.7F;
}  // namespace

MeterPoint put_down(const Scene& scene, MeterPoint meter) {
    const Vec3 middle = (scene.holes->lower + scene.holes->upper) * 0.5F;
    const auto lain_on = [&](const Vec3& away) -> std::optional<Hit> {
        auto met = scene.rays.first_hit(Ray{meter.at + away * height, -away, 2 * height});
        if (!met || scene.rays.part(met->part).light >= 0) return std::nullopt;
        // Only what it lies on: not what it is held past, nor the net or pane that it hangs behind.
        if (std::abs(met->normal.dot(away)) < square_on || scene.rays.surface_of(*met).veil()) return std::nullopt;
        return met;
    };
    if (const auto met = lain_on(meter.facing)) meter.at = met->position + meter.facing * height;
    // Facing along what it stands on: off tops and floors upwards, off walls and ceilings into the room.
    for (const int axis : {0, 1, 2}) {
        if (std::abs(meter.facing[axis]) >= square_on) continue;
        Vec3 away(0);
        away[axis] = axis == 2 || meter.at[axis] < middle[axis] ? 1.0F : -1.0F;
        const auto met = lain_on(away);
        if (!met) continue;
        const bool ceiling = axis == 2 && meter.at.z > middle.z && scene.rays.part(met->part).kind == PartKind::room;
        meter.at[axis] = met->position[axis] + (ceiling ? -height : away[axis] * height);
    }
    return meter;
}

}  // namespace rushlight
