#include "results/glint/glints.h"

#include "paths/measure.h"
#include "quantity/units.h"
#include "scene/rays/first_seen.h"
#include "scene/surface/directions.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

constexpr float off_the_mirror = 3e-4F;  // m

/// A reflection on glasses does not pass through those same glasses first.
bool own_glasses(const Part& part, const Surface& s) {
    return part.mark >= 0 && s.pane;
}

/// The name of the thing that is mirrored there: a window or something in the rig rather than the wall beside it.
/// "middle window" from "middle window, glass".
std::string thing_met(const Scene& scene, const Glint& g, float tangent) {
    const Frame frame(g.toward);
    const Part* met = nullptr;
    const auto weight = [](const Part& p) {
        return p.kind == PartKind::lamp ? 3 : p.kind == PartKind::pane ? 2 : p.kind == PartKind::panel ? 1 : 0;
    };
    constexpr int around = 8;
    for (int i = 0; i <= 2 * around; ++i) {
        const float reach = i == 0 ? 0.0F : tangent * (i <= around ? 0.5F : 1.0F);
        const float turn = 2 * static_cast<float>(pi) * static_cast<float>(i) / around;
        const Vec3 way = frame.to_place(around_axis(reach, turn, 1.0F)).normalized();
        const auto hit = first_seen(scene.rays, Ray{g.at, way}, own_glasses);
        if (!hit) continue;
        const Part& part = scene.rays.part(hit->part);
        if (met == nullptr || weight(part) > weight(*met)) met = &part;
    }
    if (met == nullptr) return "the open";
    const auto comma = met->name.find(", ");
    return comma != std::string::npos && met->mark < 0 ? met->name.substr(0, comma) : met->name;
}

/// The brightest place of a light that the mirror shows.
std::optional<GlintSeen> straight_from(const Scene& scene, const RoundMirror& mirror, std::size_t light, int side) {
    std::optional<GlintSeen> best;
    for (int i = 0; i < side * side; ++i) {
        const float u = (static_cast<float>(i % side) + 0.5F) / static_cast<float>(side);
        const float v = (static_cast<float>(i / side) + 0.5F) / static_cast<float>(side);
        const auto in = scene.lights.incoming(light, mirror.middle(), u, v);
        if (!in) continue;
        const auto g = mirror.mirroring(in->toward, in->distance);
        if (!g) continue;
        Spectrum given = in->radiance;
        const Ray ray{g->at, g->toward, in->distance * 0.9999F};
        if (!scene.rays.passes(ray, given, static_cast<int>(light))) continue;
        const double luminance = static_cast<double>(photometric(given)) * static_cast<double>(g->mirrored);
        const std::string& name = scene.lights.sources()[light];
        if (!best || luminance > best->luminance) best = {*g, name, name, luminance};
    }
    return best;
}

}  // namespace

std::optional<Glint> RoundMirror::at(const Vec3& normal) const {
    if (!ball_.holds(normal)) return std::nullopt;
    Glint g;
    g.normal = normal;
    g.at = ball_.centre + normal * (ball_.radius + off_the_mirror);
    const Vec3 to_lens = view_.at() - g.at;
    const Vec3 sight = to_lens.normalized();
    const float cosine = sight.dot(normal);
    if (cosine <= 0.05F) return std::nullopt;
    Spectrum passed{1.0F};
    if (!scene_.rays.passes(Ray{g.at, sight, to_lens.length() * 0.999F}, passed)) return std::nullopt;
    g.toward = normal * (2 * cosine) - sight;
    g.mirrored = ball_.mirrors(cosine);
    return g;
}

std::optional<Glint> RoundMirror::mirroring(const Vec3& toward, float away) const {
    const bool far = std::isinf(away);
    const Vec3 what = far ? Vec3(0) : middle() + toward * away;
    // The normal lies half way between lamp and camera, as seen from the place that it belongs to.
    Vec3 normal = ball_.out;
    for (int step = 0; step < 8; ++step) {
        const Vec3 place = ball_.centre + normal * ball_.radius;
        const Vec3 half = (far ? toward : (what - place).normalized()) + (view_.at() - place).normalized();
        if (half.length2() < 1e-6F) return std::nullopt;
        normal = half.normalized();
    }
    return at(normal);
}

std::vector<Glint> RoundMirror::all() const {
    std::vector<Glint> glints;
    const Frame frame(ball_.out);
    for (int i = 0; i < rings; ++i) {
        const float angle = ball_.reach * (static_cast<float>(i) + 0.5F) / rings;
        const int spokes = std::max(4, static_cast<int>(std::lround(6.3F * angle * rings / ball_.reach)));
        for (int j = 0; j < spokes; ++j) {
            const float turn = 2 * static_cast<float>(pi) * (static_cast<float>(j) + 0.5F) / static_cast<float>(spokes);
            const Vec3 n = frame.to_place(around_axis(std::sin(angle), turn, std::cos(angle)));
            if (const auto g = at(n.normalized())) glints.push_back(*g);
        }
    }
    return glints;
}

bool mirror_alike(const RoundMirror& mirror, const Glint& a, const Glint& b) {
    return a.toward.dot(b.toward) > std::cos(4.24F * mirror.between());
}

GlintsSeen find_glints(const Scene& scene, const RoundMirror& mirror, const std::vector<Glint>& glints, int side,
                       double worth_telling, const Effort& effort) {
    GlintsSeen found;
    const auto& sources = scene.lights.sources();
    for (std::size_t s = 0; s < sources.size(); ++s) {
        if (static_cast<int>(s) == scene.lights.sky()) continue;
        if (auto straight = straight_from(scene, mirror, s, side)) found.seen.push_back(std::move(*straight));
    }

    std::vector<MeterPoint> spots;
    for (const Glint& g : glints) {
        spots.push_back({MeterKind::spot, g.at, g.toward, mirror.between()});
        spots.back().besides = static_cast<float>(worth_telling) / std::max(g.mirrored, 1e-4F);
    }
    Effort rough = effort;
    rough.relative_error = 0.2;
    rough.tell = nullptr;
    const MeterResults results = measure(scene, spots, rough);
    found.seconds = results.seconds;
    found.luminance.resize(spots.size());
    for (std::size_t i = 0; i < spots.size() && results.batches() > 0; ++i)
        found.luminance[i] = results.all(i).value * static_cast<double>(glints[i].mirrored);
    const std::vector<double>& luminance = found.luminance;
    // One window, one light: only the brightest of its glints is told of.
    const auto outshone = [&](std::size_t i) {
        for (std::size_t j = 0; j < glints.size(); ++j)
            if (mirror_alike(mirror, glints[j], glints[i]) &&
                (luminance[j] > luminance[i] || (luminance[j] == luminance[i] && j < i)))
                return true;
        return false;
    };
    for (std::size_t i = 0; i < spots.size(); ++i) {
        if (!(luminance[i] > 0) || outshone(i)) continue;
        std::size_t most = 0;
        for (std::size_t s = 1; s < sources.size(); ++s)
            if (results.of(i, s).value > results.of(i, most).value) most = s;
        // The lamp itself has been told of.
        const std::string by = thing_met(scene, glints[i], mirror.between());
        if (by != sources[most]) found.seen.push_back({glints[i], sources[most], by, luminance[i]});
    }
    return found;
}

}  // namespace rushlight
