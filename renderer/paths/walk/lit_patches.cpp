#include "paths/walk/lit_patches.h"

#include "paths/walk/camera_paths.h"
#include "quantity/units.h"
#include "scene/surface/directions.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace rushlight {

float pdf_of(std::span<const AimedCone> cones, const Vec3& toward) {
    float sum = 0;
    for (const AimedCone& c : cones)
        if (toward.dot(c.axis) >= c.cosine) sum += c.share * c.inside_pdf();
    return sum;
}

Vec3 drawn_from(std::span<const AimedCone> cones, float which, float u0, float u1) {
    const AimedCone* chosen = &cones.back();
    for (const AimedCone& c : cones) {
        if (which < c.share) {
            chosen = &c;
            break;
        }
        which -= c.share;
    }
    // A hair within, so that rounding does not put it outside of its own pdf.
    const float z = 1.0F - (1.0F - chosen->cosine) * std::clamp(u0, 1e-5F, 0.9999F);
    const float r = std::sqrt(std::max(0.0F, 1.0F - z * z)), phi = 2.0F * pi_f * u1;
    return Frame(chosen->axis).to_place(around_axis(r, phi, z)).normalized();
}

std::vector<LitPatch> lit_patches(const Scene& scene, const LightPaths& found) {
    std::map<std::uint32_t, std::vector<const Vertex*>> by_part;
    for (const Vertex& v : found.vertices)
        if (scene.rays.part(v.part).kind != PartKind::outside) by_part[v.part].push_back(&v);
    std::vector<LitPatch> patches;
    for (const auto& [part, vertices] : by_part) {
        LitPatch p;
        const auto sheds = [](const Vertex& v) { return v.light * v.surface->largest_share(); };
        for (const Vertex* v : vertices) {
            p.flux += sheds(*v);
            p.centre += v->position * sheds(*v);
        }
        if (!(p.flux > 0)) continue;
        p.centre = p.centre / p.flux;
        float squares = 0;
        for (const Vertex* v : vertices) squares += sheds(*v) * (v->position - p.centre).length2();
        // An even disc reaches sqrt(2) times as far as the root of its mean square; and a little more is safe.
        p.radius = 1.6F * std::sqrt(squares / p.flux);
        p.flux /= static_cast<float>(found.paths);
        patches.push_back(p);
    }
    return patches;
}

std::vector<AimedCone> cones_toward(const std::vector<LitPatch>& patches, const MeterPoint& meter,
                                    std::vector<AimedCone> others) {
    constexpr std::size_t most = 4;
    constexpr float widest = 0.8F;        // sine of the half-angle: what is wider is found without aiming
    constexpr float worth_aiming = 0.1F;  // of what the meter reads
    if (meter.kind == MeterKind::spot) return {};
    constexpr std::size_t most_others = 64;
    const auto keep_brightest = [](std::vector<AimedCone>& of, std::size_t count) {
        std::stable_sort(of.begin(), of.end(),
                         [](const AimedCone& a, const AimedCone& b) { return a.share > b.share; });
        if (of.size() > count) of.resize(count);
    };
    keep_brightest(others, most_others);
    std::vector<AimedCone> cones;
    float all = 0;
    for (const AimedCone& c : others) all += c.share;
    for (const LitPatch& p : patches) {
        const Vec3 way = p.centre - meter.at;
        const float d2 = way.length2(), d = std::sqrt(d2), radius = std::max(p.radius, 0.02F);
        if (radius >= widest * d) continue;
        const float sine = radius / d;
        const Vec3 axis = way / d;
        // Its edge may be seen where its middle is not.
        const float response =
            std::max(meter.response(axis), 0.5F * meter.response((axis + meter.facing * sine).normalized()));
        const float lux = p.flux * response / (pi_f * d2);
        if (!(lux > 0)) continue;
        cones.push_back({axis, std::sqrt(1.0F - sine * sine), lux});
        all += lux;
    }
    // One lucky walk may have met what is thrown, and what is expected is then far too much: it does not count here.
    if (others.empty() && all < worth_aiming * meter.expected) return {};
    keep_brightest(cones, most);
    cones.insert(cones.begin(), others.begin(), others.end());
    all = 0;
    for (const AimedCone& c : cones) all += c.share;
    for (AimedCone& c : cones) c.share /= all;
    return cones;
}

std::vector<float> unhindered(const LightPaths& found, const MeterPoint& meter, std::size_t layers) {
    constexpr float nearest = 0.3F;  // m: a path that lands closer is not what one path more would be like
    std::vector<float> lux(layers);
    for (std::size_t i = 0; i < found.vertices.size(); ++i) {
        const Vertex& v = found.vertices[i];
        const Vec3 way = v.position - meter.at;
        const float d2 = way.length2();
        lux[found.layers[i]] += v.light * v.surface->largest_share() * meter.response(way / std::sqrt(d2)) /
                                (pi_f * std::max(d2, nearest * nearest) * static_cast<float>(found.paths));
    }
    return lux;
}

}  // namespace rushlight
