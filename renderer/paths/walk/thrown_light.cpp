#include "paths/walk/thrown_light.h"

#include "paths/walk/camera_paths.h"
#include "paths/walk/walk.h"
#include "quantity/units.h"
#include "scene/surface/directions.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

constexpr std::uint32_t walks = 32'768, walks_to_bodies = 65'536;
// m. What passes a meter as near as this counts as thrown at it; where that is little, what passes somewhat further off
// tells of it too.
constexpr float reach = 0.2F, far_reach = 1;
constexpr std::size_t many = 16;
constexpr float worth_finding = 0.1F;  // share that is thrown; two panes, or a pane and varnish, throw less
constexpr float narrow_gloss = 0.15F;  // wider than this, what is mirrored is spread so far that walks come by it
constexpr int most_turns = 12;

bool throws(const Surface& s) {
    return s.sharp() || (s.metal_share > 0 && s.alpha <= narrow_gloss);
}

/// The largest share that two in a row send on, though each may be in a list.
float by_two_in_a_row(const Scene& scene) {
    float most = 0, next = 0;
    for (std::uint32_t p = 0; p < scene.rays.part_count(); ++p) {
        const Surface& s = scene.rays.surface(scene.rays.part(p).surface);
        if (scene.rays.part(p).light >= 0 || !throws(s)) continue;
        const float share = s.sharp() ? s.mirrored_at(1.0F).largest() : s.metal_share;
        next = std::max(next, std::min(most, share));
        most = std::max(most, share);
    }
    return most * next;
}

/// The box round what the walks met.
struct Bounds {
    Vec3 low{INFINITY, INFINITY, INFINITY}, high{-INFINITY, -INFINITY, -INFINITY};
    void add(const Vec3& p) {
        for (int i = 0; i < 3; ++i) low[i] = std::min(low[i], p[i]), high[i] = std::max(high[i], p[i]);
    }
    float area() const {
        const Vec3 d = high - low;
        return d.x >= 0 ? std::max(1.0F, 2 * (d.x * d.y + d.y * d.z + d.z * d.x)) : 1.0F;
    }
};

/// One walk, by mirrors alone; what a veil lets pass goes on unbent.
void throw_one(const Scene& scene, const SetOut& out, float share, Sampler& sampler, ThrownLight& thrown,
               Bounds& place) {
    Ray ray = out.ray;
    Spectrum carried = out.throughput;
    float emission_pdf = out.emission_pdf;
    int folds = out.plan.folds, mirror = out.plan.last.mirror;
    bool by_gloss = false;
    const std::span<const std::size_t> outside = scene.lights.outside();
    float before = std::find(outside.begin(), outside.end(), out.start.light) != outside.end() ? INFINITY : 0.0F;
    for (int turn = 0; turn < most_turns; ++turn) {
        const auto hit = scene.rays.first_hit(ray);
        if (hit) place.add(hit->position);
        const bool by_list = folds == 1 && (mirror >= 0 || by_gloss);
        if (folds > 0 && !by_list)
            thrown.rays.push_back(
                {ray.origin, ray.direction, hit ? hit->distance : INFINITY, before, photometric(carried) * share});
        if (!hit || scene.rays.part(hit->part).light >= 0) return;
        const Surface& s = scene.rays.surface_of(*hit);
        if (!s.veil() && !throws(s)) return;
        const float cosine = std::abs(hit->normal.dot(ray.direction));
        const Surface::Chances by_chance = s.veil() || s.sharp() ? s.chances(cosine) : Surface::Chances{};
        const float u = sampler.next();
        Vec3 away = ray.direction;
        if (u < by_chance.pass) {
            carried *= s.straight_at(cosine) * (1.0F / by_chance.pass);
        } else if (u < by_chance.pass + by_chance.mirror) {
            carried *= s.mirrored_at(cosine) * (1.0F / by_chance.mirror);
            mirror = scene.mirror_at(*hit);
            if (folds++ == 0 && emission_pdf > 0)
                carried *= worth_at_first_mirror(scene, out, {mirror, by_chance.mirror}, emission_pdf);
            away = ray.direction - hit->normal * (2.0F * hit->normal.dot(ray.direction));
        } else if (!s.sharp() && throws(s)) {
            const Vertex v(scene.rays, *hit, ray.direction, carried);
            const float u0 = sampler.next(), u1 = sampler.next(), u2 = sampler.next();
            const auto bounce = v.bounce_to_eye(u0, u1, u2);
            if (!bounce) return;
            carried *= bounce->weight * (1.0F / (1.0F - by_chance.pass));
            mirror = -1;
            by_gloss = folds++ == 0;
            away = bounce->to;
        } else {
            return;
        }
        if (carried.dark()) return;
        before += hit->distance;
        ray = Ray{lifted(hit->position, hit->normal, away, hit->distance), away.normalized()};
    }
}

/// A ray of the sun to somewhere in the ball round the body; false where the sun does not get there.
bool start_at(const Scene& scene, const Thrower& t, std::size_t sun, Sampler& sampler, SetOut& out) {
    const float u = sampler.next(), v = sampler.next(), u0 = sampler.next(), u1 = sampler.next();
    const auto in = scene.lights.incoming_by_mirror(sun, t.centre, u, v);
    if (!in || !(in->pdf > 0)) return false;
    const Vec3 across = Frame(in->toward).to_place(around_axis(std::sqrt(u0), 2 * pi_f * u1, 0.0F));
    const Vec3 at = t.centre + (across + in->toward) * t.radius;
    out.throughput = in->radiance * (pi_f * t.radius * t.radius / in->pdf);
    out.ray = Ray{at, -in->toward};
    return scene.rays.passes(Ray{at, in->toward, INFINITY}, out.throughput) && !out.throughput.dark();
}

}  // namespace

ThrownLight thrown_light(const Scene& scene, std::uint64_t seed) {
    ThrownLight thrown;
    const float in_a_row = by_two_in_a_row(scene);
    std::vector<Thrower> unlisted;
    float by_one = 0, across = 0;
    for (const Thrower& t : scene.throwers)
        if (t.share >= worth_finding) {
            unlisted.push_back(t);
            by_one = std::max(by_one, t.share);
            across += t.radius * t.radius;
        }
    if (std::max(in_a_row, by_one) < worth_finding) return thrown;

    Bounds place;
    std::vector<double> flux(scene.lights.layers()), count(scene.lights.layers());
    for (std::uint32_t i = 0; i < walks; ++i) {
        Sampler sampler(stream_of(seed, 0x7468726F776EULL), i);
        const auto out = set_out(scene, sampler);
        // The sky fills so much of what shows it that walks come by it.
        if (!out || static_cast<int>(out->start.light) == scene.lights.sky()) continue;
        const std::size_t layer = scene.lights.layer(out->start.light, -out->start.ray.direction);
        flux[layer] += static_cast<double>(photometric(out->throughput));
        count[layer] += 1;
        throw_one(scene, *out, 1.0F / static_cast<float>(walks), sampler, thrown, place);
    }
    // The sun's walks come in by windows: those to bodies that throw are started at the bodies.
    std::vector<double> at_bodies(flux.size());
    for (const std::size_t light : scene.lights.outside()) {
        if (static_cast<int>(light) == scene.lights.sky()) continue;
        for (std::size_t k = 0; k < unlisted.size(); ++k) {
            const Thrower& t = unlisted[k];
            const auto rays = static_cast<std::uint32_t>(
                std::ceil(static_cast<float>(walks_to_bodies) * t.radius * t.radius / across));
            for (std::uint32_t i = 0; i < rays; ++i) {
                Sampler sampler(stream_of(stream_of(seed, 0x73756E74ULL), k), i);
                SetOut out;
                out.start.light = light;
                if (!start_at(scene, t, light, sampler, out)) continue;
                const double carried = static_cast<double>(photometric(out.throughput)) / rays;
                at_bodies[light] = std::max(at_bodies[light], carried);
                throw_one(scene, out, 1.0F / static_cast<float>(rays), sampler, thrown, place);
            }
        }
    }
    // Where one walk more would have thrown its light is not known: on the meter's own disc by its share of the place.
    const double around = std::sqrt(static_cast<double>(pi_f * reach * reach) * static_cast<double>(place.area()));
    thrown.missed.resize(flux.size());
    for (std::size_t l = 0; l < flux.size(); ++l) {
        const double one = count[l] > 0 ? flux[l] / count[l] / walks : 0.0;
        const double by_list = static_cast<double>(at_bodies[l] > 0 ? in_a_row : std::max(in_a_row, by_one));
        thrown.missed[l] =
            static_cast<float>(std::hypot(by_list * one, static_cast<double>(by_one) * at_bodies[l]) / around);
    }
    return thrown;
}

std::vector<AimedCone> cones_against(const ThrownLight& thrown, const MeterPoint& meter) {
    struct Sheaf {
        Vec3 sum{0, 0, 0};  // of directions, by lux
        float lux = 0;
        int rays = 0;
        Vec3 axis() const { return sum.normalized(); }
    };
    constexpr float together = 0.9995F;  // cosine: rays within some two degrees
    constexpr std::size_t most = 64;
    struct Near {
        float off2;  // m2, from the meter
        std::size_t ray;
    };
    std::vector<Near> near;
    for (std::size_t i = 0; i < thrown.rays.size(); ++i) {
        const ThrownLight::Ray& r = thrown.rays[i];
        const Vec3 way = meter.at - r.from;
        const float along = way.dot(r.direction), off2 = way.length2() - along * along;
        if (along > 0 && along < r.length && off2 < far_reach * far_reach) near.push_back({off2, i});
    }
    std::sort(near.begin(), near.end(), [](const Near& a, const Near& b) { return a.off2 < b.off2; });
    while (near.size() > many && near.back().off2 > reach * reach) near.pop_back();
    const float within2 = near.size() < many ? far_reach * far_reach : near.back().off2;
    const float disc = pi_f * std::max(reach * reach, within2);

    std::vector<Sheaf> sheaves;
    for (const Near& n : near) {
        const ThrownLight::Ray& r = thrown.rays[n.ray];
        // Where the light seems to be, as in a flat mirror.
        const Vec3 image = r.from - r.direction * r.before;
        const Vec3 toward = std::isinf(r.before) ? -r.direction : (image - meter.at).normalized();
        const float lux = r.flux * meter.response(toward) / disc;
        if (!(lux > 0)) continue;
        auto home = std::find_if(sheaves.begin(), sheaves.end(),
                                 [&](const Sheaf& s) { return s.axis().dot(toward) > together; });
        if (home == sheaves.end()) {
            if (sheaves.size() == most) continue;
            home = sheaves.insert(sheaves.end(), Sheaf{});
        }
        home->sum += toward * lux;
        home->lux += lux;
        ++home->rays;
    }
    std::vector<AimedCone> cones;
    for (const Sheaf& s : sheaves) {
        // The length of the mean of unit vectors is 1 - half their mean square deviation. An even disc reaches sqrt(2)
        // times as far as the root of that, and more is safe: what is left out is found seldom and then weighs much.
        // Few rays do not tell, and the sun is half a degree wide. A wider cone takes in what lies beside.
        constexpr float narrowest = 0.006F, safe = 2.2F, of_one = 0.03F, wider = 3, share_of_wider = 0.1F;
        const float square = std::max(0.0F, 2.0F * (1.0F - s.sum.length() / s.lux));
        const auto rays = static_cast<float>(s.rays);
        const float half = std::max(narrowest, safe * std::sqrt(square) + of_one / (rays * rays));
        cones.push_back({s.axis(), std::cos(half), (1 - share_of_wider) * s.lux});
        cones.push_back({s.axis(), std::cos(std::min(wider * half, 1.0F)), share_of_wider * s.lux});
    }
    return cones;
}

}  // namespace rushlight
