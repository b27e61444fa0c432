#include "paths/walk/looks.h"

#include "quantity/units.h"
#include "scene/surface/directions.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {
// Rays that bring less than this share of what one look brings on average are gambled on.
constexpr float enough_of_a_look = 0.3F;
}  // namespace

bool worth_a_ray(Spectrum& light, float enough, Sampler& sampler) {
    const float brings = photometric(light);
    if (brings >= enough) return brings > 0;
    const float chance = std::max(brings / enough, 0.02F);
    if (sampler.next() >= chance) return false;
    light *= 1.0F / chance;
    return true;
}

Vec3 drawn_direction(const MeterPoint& meter, float u0, float u1) {
    const float z = meter.kind == MeterKind::flat ? std::sqrt(std::max(1e-12F, 1.0F - u0))
                                                  : std::clamp(2.0F * std::sqrt(1.0F - u0) - 1.0F, -1.0F, 1.0F);
    return Frame(meter.facing).to_place(sphere_direction(z, u1)).normalized();
}

float share_of_aims(const MeterPoint& meter) {
    constexpr float share = 0.3F;
    return meter.aims.empty() ? 0.0F : share;
}

Vec3 drawn_in_spot(const MeterPoint& meter, float u0, float u1) {
    const float r = meter.spot_radius * std::sqrt(u0);
    const float phi = 2.0F * pi_f * u1;
    return Frame(meter.facing).to_place(around_axis(r, phi, 1.0F)).normalized();
}

float pdf_of(const MeterPoint& meter, const Aim& aim, const Vec3& toward) {
    const float own = meter.response(toward) / (meter.kind == MeterKind::flat ? pi_f : 2.0F * pi_f);
    const float bright = share_of_aims(meter);
    float pdf = (1.0F - aim.share_of_a_meter() - bright) * own + aim.aimed_pdf_of_a_meter(meter.at, toward);
    if (bright > 0) pdf += bright * pdf_of(meter.aims, toward);
    return pdf;
}

float MeterPoint::response(const Vec3& toward) const {
    const float cosine = facing.dot(toward);
    if (kind == MeterKind::dome) return std::max(0.0F, 0.5F * (1.0F + cosine));
    return std::max(0.0F, cosine);
}

void look_at_light_paths(const Scene& scene, const MeterPoint& meter, const LightPaths& pool, const Sharing& sharing,
                         Sampler sampler, std::span<Spectrum> layers, const LastSurfaces* last_surfaces) {
    if (meter.kind == MeterKind::spot || pool.vertices.empty()) return;
    const float enough =
        enough_of_a_look * meter.expected * static_cast<float>(pool.paths) / static_cast<float>(pool.vertices.size());
    const float looks = sharing.look_samples();
    const Aim aim(scene);
    for (std::size_t number = 0; number < pool.vertices.size(); ++number) {
        const Vertex& y = pool.vertices[number];
        const Vec3 between = y.position - meter.at;
        const float d2 = between.length2();
        if (d2 < 1e-8F) continue;
        const float d = std::sqrt(d2);
        const Vec3 toward = between / d;
        const float response = meter.response(toward);
        const float cosine = y.cosine(-toward);
        if (response <= 0 || cosine < 1e-6F) continue;
        Spectrum given = y.brought(-toward);
        if (given.dark()) continue;
        const float later = pdf_of(meter, aim, toward) * cosine / d2 * y.weight_of_others(aim.pdf(y, -toward, y.from));
        given *= y.throughput;
        given *= response / d2 * looks / (looks + later);
        float passed = 1;
        if (worth_a_ray(given, enough, sampler) &&
            scene.rays.passes(Ray{meter.at, toward, (d - y.room_before(-toward)) * short_of}, given, -1, &passed)) {
            const std::size_t group = last_surfaces != nullptr ? last_surfaces->group(scene.rays, meter.at, toward) : 0;
            layers[group * scene.lights.layers() + pool.layers[number]] +=
                given * ((looks + later) / (looks + later * passed));
        }
    }
}

}  // namespace rushlight
