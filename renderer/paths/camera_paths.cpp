#include "paths/camera_paths.h"

#include "paths/walk.h"
#include "quantity/units.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

constexpr float fpi = static_cast<float>(pi);
// A shadow ray stops short of its light by this share of the way, so as not to be stopped by the light itself.
constexpr float short_of = 1.0F - 2e-5F;

/// Whether to trace the ray that would bring `light` (at most): always if it brings `enough`, else by a chance
/// in proportion, weighed so that the mean stays. Most of the light comes by few of the rays.
bool worth_a_ray(Spectrum& light, float enough, Sampler& sampler) {
    const float brings = photometric(light);
    if (brings >= enough) return brings > 0;
    const float chance = std::max(brings / enough, 0.02F);
    if (sampler.next() >= chance) return false;
    light *= 1.0F / chance;
    return true;
}

// Rays that bring less than this share of what one walk brings on average are gambled on.
constexpr float enough_of_a_walk = 0.02F;
// And of what one look from a light path brings on average.
constexpr float enough_of_a_look = 0.1F;

/// One walk from a meter or a pixel. `cosine` and `density` belong to the direction last taken;
/// `others` is the last vertex's weight of others for that direction.
class CameraWalk {
public:
    CameraWalk(const Scene& scene, const LightPaths& pool, const Sharing& sharing, Sampler& sampler,
               std::span<Spectrum> layers)
        : scene_(scene), pool_(pool), sharing_(sharing), sampler_(sampler), layers_(layers),
          chances_(scratch(scene.lights.count())) {}

    /// At a meter: ask a light, then set out by the meter's own weighing of directions.
    void start_at(const MeterPoint& meter);
    /// At a pixel: nothing but the ray.
    void start_along(const Ray& ray) { ray_ = ray; }

    void go();

private:
    void end_in_light(std::size_t light, const Hit& hit);
    void leave_the_place();
    void ask_a_light(const Vertex& v);
    void join_a_light_path(const Vertex& v);

    const Scene& scene_;
    const LightPaths& pool_;
    const Sharing& sharing_;
    Sampler& sampler_;
    std::span<Spectrum> layers_;
    /// One list a thread, so that no walk has to ask for memory.
    static std::span<float> scratch(std::size_t count) {
        thread_local std::vector<float> list;
        list.assign(count, 0.0F);
        return list;
    }
    std::span<float> chances_;     // of asking each light, at the last vertex

    Ray ray_;
    Spectrum carried_{1.0F};
    bool asked_ = false;           // whether lights were asked at the last vertex
    float looks_ = 0;              // looks from light paths at the start, per walk
    float enough_ = 0;             // see worth_a_ray()
    float density_ = 1;
    float cosine_ = 1;
    float others_ = 0;
};

void CameraWalk::start_at(const MeterPoint& meter) {
    enough_ = enough_of_a_walk * meter.expected;
    if (meter.kind == MeterKind::spot) {
        const Frame f(meter.facing);
        const float r = meter.spot_radius * std::sqrt(sampler_.next());
        const float phi = 2.0F * fpi * sampler_.next();
        const Vec3 toward = f.to_place({r * std::cos(phi), r * std::sin(phi), 1.0F}).normalized();
        start_along(Ray{meter.at, toward});
        return;
    }
    looks_ = sharing_.look_samples();
    asked_ = true;

    // Set out by cosine, or by (1 + cosine): half of the directions even, half by cosine over both sides.
    const float u0 = sampler_.next(), u1 = sampler_.next();
    float z = 0;
    if (meter.kind == MeterKind::flat) {
        z = std::sqrt(std::max(1e-12F, 1.0F - u0));
    } else {
        z = std::clamp(2.0F * std::sqrt(1.0F - u0) - 1.0F, -1.0F, 1.0F);  // density (1 + z) / (4 pi)
    }
    const float r = std::sqrt(std::max(0.0F, 1.0F - z * z));
    const float phi = 2.0F * fpi * u1;
    const Vec3 toward = Frame(meter.facing).to_place({r * std::cos(phi), r * std::sin(phi), z}).normalized();
    // The receptor weighs directions just as they are drawn, up to a constant.
    const float drawn_per_response = meter.kind == MeterKind::flat ? 1.0F / fpi : 1.0F / (2.0F * fpi);

    // Ask every light: a meter has few things to ask, and its answers weigh most.
    std::fill(chances_.begin(), chances_.end(), 1.0F);
    const float v0 = sampler_.next(), v1 = sampler_.next();
    for (std::size_t light = 0; light < chances_.size(); ++light)
        if (const auto in = scene_.lights.incoming(light, meter.at, v0, v1)) {
            const float response = meter.response(in->toward);
            if (response <= 0) continue;
            Spectrum light_in = in->radiance * (response / (in->density + response * drawn_per_response));
            if (scene_.rays.passes(Ray{meter.at, in->toward, in->distance * short_of}, light_in))
                layers_[light] += light_in;
        }

    const float response = meter.response(toward);
    density_ = response * drawn_per_response;
    if (!(density_ > 0)) {
        carried_ = Spectrum{};
        return;
    }
    carried_ = Spectrum{1.0F / drawn_per_response};
    ray_ = Ray{meter.at, toward};
}

void CameraWalk::go() {
    Vertex last;
    for (int meetings = 0;; ++meetings) {
        if (carried_.dark()) return;
        const auto hit = next_meeting(scene_.rays, ray_, carried_, sampler_);
        if (!hit) return leave_the_place();
        if (const int light = scene_.rays.part(hit->part).emitter; light >= 0)
            return end_in_light(static_cast<std::size_t>(light), *hit);

        Vertex v;
        v.position = hit->position;
        v.normal = hit->normal;
        v.from = -ray_.direction;
        v.distance = hit->distance;
        v.surface = &scene_.rays.surface_of(*hit);
        v.part = hit->part;
        v.carried = carried_;
        const float cosine = std::abs(v.normal.dot(v.from));
        if (cosine < 1e-6F) return;
        const float reach = 1.0F / (density_ * cosine);   // d^2 / (area density of this vertex)
        v.here = (meetings == 0 ? looks_ : sharing_.join_samples) * reach * v.distance * v.distance;
        v.before = meetings == 0 ? 0.0F : reach * cosine_ * others_;

        ask_a_light(v);
        if (!pool_.vertices.empty()) join_a_light_path(v);

        const float u0 = sampler_.next(), u1 = sampler_.next(), u2 = sampler_.next();
        const auto bounce = v.surface->bounce(v.normal, v.from, u0, u1, u2);
        if (!bounce) return;
        const float goes_on = chance_to_go_on(meetings, bounce->kept);
        if (goes_on < 1.0F && sampler_.next() >= goes_on) return;
        carried_ *= bounce->kept * (1.0F / goes_on);
        density_ = bounce->density;
        cosine_ = std::abs(v.normal.dot(bounce->to));
        others_ = v.weight_of_others(v.surface->density(v.normal, bounce->to, v.from));
        ray_ = Ray{v.lifted_to(bounce->to), bounce->to};
        last = v;
    }
}

/// The walk met a light. Other ways to the same path: asking that light at the last vertex, or a walk from it.
void CameraWalk::end_in_light(std::size_t light, const Hit& hit) {
    const Vec3 outward = -ray_.direction;
    const Spectrum radiance = scene_.lights.radiance(light, hit, outward);
    if (radiance.dark()) return;
    float others = 0;
    if (asked_) others += chances_[light] * scene_.lights.incoming_density(light, ray_.origin, hit, ray_.direction);
    if (others_ > 0) others += scene_.lights.ray_density(light, hit, outward) * cosine_ * others_;
    layers_[light] += carried_ * radiance * (density_ / (density_ + others));
}

void CameraWalk::leave_the_place() {
    Hit end;
    end.position = ray_.origin;
    end.distance = std::numeric_limits<float>::infinity();
    for (const int light : {scene_.lights.sky(), scene_.lights.sun()})
        if (light >= 0) end_in_light(static_cast<std::size_t>(light), end);
}

void CameraWalk::ask_a_light(const Vertex& v) {
    scene_.lights.chances(v.position, chances_);
    asked_ = !chances_.empty();
    float left = sampler_.next();
    const float u0 = sampler_.next(), u1 = sampler_.next();
    if (!asked_) return;
    std::size_t light = 0;
    while (light + 1 < chances_.size() && left >= chances_[light]) left -= chances_[light++];
    const auto in = scene_.lights.incoming(light, v.position, u0, u1);
    if (!in) return;
    const float cosine = std::abs(v.normal.dot(in->toward));
    Spectrum given = v.surface->scattered(v.normal, v.from, in->toward);
    if (given.dark() || cosine < 1e-6F) return;
    const float asked = chances_[light] * in->density;
    float sum = asked + v.surface->density(v.normal, v.from, in->toward);
    if (sharing_.light_paths > 0) {
        Hit end;
        end.position = std::isinf(in->distance) ? v.position : v.position + in->toward * in->distance;
        end.distance = in->distance;
        end.primitive = in->primitive;
        sum += scene_.lights.ray_density(light, end, -in->toward) * cosine *
               v.weight_of_others(v.surface->density(v.normal, in->toward, v.from));
    }
    given *= v.carried * in->radiance;
    given *= cosine / sum;
    if (worth_a_ray(given, enough_, sampler_) &&
        scene_.rays.passes(Ray{v.lifted_to(in->toward), in->toward, in->distance * short_of}, given))
        layers_[light] += given;
}

void CameraWalk::join_a_light_path(const Vertex& v) {
    const auto count = pool_.vertices.size();
    const auto pick = std::min(static_cast<std::size_t>(sampler_.next() * static_cast<float>(count)), count - 1);
    const LightVertex& y = pool_.vertices[pick];
    const Vec3 between = y.position - v.position;
    const float d2 = between.length2();
    if (d2 < 1e-8F) return;
    const float d = std::sqrt(d2);
    const Vec3 toward = between / d;
    const float cos_v = std::abs(v.normal.dot(toward));
    const float cos_y = std::abs(y.normal.dot(toward));
    if (cos_v < 1e-6F || cos_y < 1e-6F) return;
    Spectrum given = v.surface->scattered(v.normal, v.from, toward) * y.surface->scattered(y.normal, y.from, -toward);
    if (given.dark()) return;
    const float earlier = y.surface->density(y.normal, y.from, -toward) * cos_v / d2 *
                          v.weight_of_others(v.surface->density(v.normal, toward, v.from));
    const float later = v.surface->density(v.normal, v.from, toward) * cos_y / d2 *
                        y.weight_of_others(y.surface->density(y.normal, -toward, y.from));
    const float weight = sharing_.join_samples / (sharing_.join_samples + earlier + later);
    given *= v.carried * y.carried;
    given *= cos_v * cos_y / d2 * weight * static_cast<float>(count) / static_cast<float>(pool_.paths);
    if (worth_a_ray(given, enough_, sampler_) && scene_.rays.passes(Ray{v.lifted_to(toward), toward, d * short_of}, given)) layers_[y.source] += given;
}

}  // namespace

float MeterPoint::response(const Vec3& toward) const {
    const float cosine = facing.dot(toward);
    if (kind == MeterKind::dome) return std::max(0.0F, 0.5F * (1.0F + cosine));
    return std::max(0.0F, cosine);
}

void collect_at_meter(const Scene& scene, const MeterPoint& meter, const LightPaths& pool, const Sharing& sharing,
                      Sampler sampler, std::span<Spectrum> layers) {
    CameraWalk walk(scene, pool, sharing, sampler, layers);
    walk.start_at(meter);
    walk.go();
}

void collect_along(const Scene& scene, const Ray& ray, const LightPaths& pool, const Sharing& sharing, Sampler& sampler,
                   std::span<Spectrum> layers) {
    CameraWalk walk(scene, pool, sharing, sampler, layers);
    walk.start_along(ray);
    walk.go();
}

void look_at_light_paths(const Scene& scene, const MeterPoint& meter, const LightPaths& pool, const Sharing& sharing,
                         Sampler sampler, std::span<Spectrum> layers) {
    if (meter.kind == MeterKind::spot || pool.vertices.empty()) return;
    const float enough = enough_of_a_look * meter.expected * static_cast<float>(pool.paths) /
                         static_cast<float>(pool.vertices.size());
    const float looks = sharing.look_samples();
    const float drawn_per_response = meter.kind == MeterKind::flat ? 1.0F / fpi : 1.0F / (2.0F * fpi);
    for (const LightVertex& y : pool.vertices) {
        const Vec3 between = y.position - meter.at;
        const float d2 = between.length2();
        if (d2 < 1e-8F) continue;
        const float d = std::sqrt(d2);
        const Vec3 toward = between / d;
        const float response = meter.response(toward);
        const float cosine = std::abs(y.normal.dot(toward));
        if (response <= 0 || cosine < 1e-6F) continue;
        Spectrum given = y.surface->scattered(y.normal, y.from, -toward);
        if (given.dark()) continue;
        const float later = response * drawn_per_response * cosine / d2 *
                            y.weight_of_others(y.surface->density(y.normal, -toward, y.from));
        given *= y.carried;
        given *= response * cosine / d2 * looks / (looks + later);
        if (worth_a_ray(given, enough, sampler) && scene.rays.passes(Ray{meter.at, toward, d * short_of}, given)) layers[y.source] += given;
    }
}

}  // namespace rushlight
