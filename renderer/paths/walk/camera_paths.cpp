#include "paths/walk/camera_paths.h"

#include "paths/walk/aim.h"
#include "paths/walk/images.h"
#include "paths/walk/joins.h"
#include "paths/walk/looks.h"
#include "paths/walk/walk.h"
#include "quantity/units.h"
#include "scene/surface/directions.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace rushlight {

namespace {

// Rays that bring less than this share of what one walk brings on average are gambled on.
constexpr float enough_of_a_walk = 0.05F;
// A meter asks every light: its own answers weigh most. So do the surfaces in view, for most of theirs.
constexpr float asks_of_a_meter = 1e6F;
constexpr float asks_in_view = 6.0F;
// Light vertices looked at for the join that a pixel hangs on: worth about as many joins, and weighed so.
constexpr int candidates_in_view = 16;

/// One walk from a meter or a pixel. `cosine` and `pdf` belong to the direction last taken;
/// `others` is the last vertex's weight of others for that direction.
class CameraWalk {
public:
    CameraWalk(const Scene& scene, const LightPaths& pool, const Sharing& sharing, Sampler& sampler,
               std::span<Spectrum> layers, SplitLight* split, const LastSurfaces* surfaces = nullptr)
        : scene_(scene),
          pool_(pool),
          sharing_(sharing),
          sampler_(sampler),
          layers_(layers),
          split_(split),
          surfaces_(surfaces),
          chances_(scratch_list(scene.lights.count())),
          aim_(scene) {}

    /// At a meter: ask a light, then set out by the meter's own weighing of directions.
    void start_at(const MeterPoint& meter);
    /// At a pixel: nothing but the ray.
    void start_along(const Ray& ray) {
        ray_ = ray;
        first_asks_ = asks_in_view;
    }
    /// For the first stretch of the way.
    void plan_veils(int scatter_at, float weight) {
        veils_.scatter_at = scatter_at;
        throughput_ = Spectrum{weight};
    }
    void look_through(const Analyser& analyser) { analyser_ = analyser; }
    int first_veils() const { return first_veils_; }

    void go();

private:
    void end_in_light(std::size_t light, const Hit& hit);
    void leave_the_place();
    void sample_lights(const Vertex& v, float asks);
    void sample_images(const Vertex& v);
    /// The light that joining `v` to `y` would bring if nothing stood between, weighed against the other ways to find
    /// the same path (multiple importance sampling). `walked` gets the weight of those ways, which are walks over the
    /// join, against joins_.
    Spectrum connection(const Vertex& v, const Vertex& y, float& walked) const;
    float resampling_target(const Vertex& v, const Vertex& y) const;
    /// The radiance that `v` sends back along the walk, as the lens sees it, for each unit of radiance and steradian
    /// that comes from `to`.
    Spectrum sent(const Vertex& v, const Vec3& to) const {
        if (!analyser_ || v.is_fibre()) return v.sent(v.from, to);
        const Vec3 normal = v.frame.kind == HitFrame::Kind::rounded ? v.facing(v.from) : v.normal;
        return v.surface->seen(normal, v.from, to, *analyser_) * std::abs(normal.dot(to));
    }
    void connect_to_light_path(const Vertex& v, int candidates);

    /// Picks lights for the point `at`, `asks` of them on average and each at most once, and hands the light that
    /// arrives from each to `received`. Afterwards chances_ holds the chance with which each light is asked: every
    /// weight needs it.
    template <class Received>
    void pick_lights(const Vec3& at, float asks, const Received& received) {
        image_asks_ = {scene_.lights.chances(at, chances_), asks};
        asked_ = true;
        // Few lights and many asks: all of them.
        if (asks >= static_cast<float>(chances_.size())) asks = asks_of_a_meter;
        // One random offset over the running sum: as even a choice as there is.
        float sum = sampler_.next();
        const float u = sampler_.next(), v = sampler_.next();
        for (std::size_t light = 0; light < chances_.size(); ++light) {
            chances_[light] = std::min(1.0F, asks * chances_[light]);
            const float before = sum;
            sum += chances_[light];
            if (chances_[light] < 1.0F && std::floor(sum) == std::floor(before)) continue;
            if (const auto in = scene_.lights.incoming(light, at, u, v)) received(light, *in);
        }
    }

    void pay(std::size_t layer, const Spectrum& amount) {
        layers_[group_ * scene_.lights.layers() + layer] += amount;
        if (split_ == nullptr) return;
        if (bounced_) {
            if (!split_->bounced.empty()) split_->bounced[layer] += amount;
        } else if (static_cast<int>(layer) == scene_.lights.sky() && on_a_surface_) {
            split_->soft += amount;
        }
    }

    const Scene& scene_;
    const LightPaths& pool_;
    const Sharing& sharing_;
    Sampler& sampler_;
    std::span<Spectrum> layers_;
    SplitLight* split_;             // where some of the light is counted a second time, or null
    const LastSurfaces* surfaces_;  // sorts the light by the surface that the start sees, or null
    std::size_t group_ = 0;         // of the surface in the direction that is paid for now
    std::span<float> chances_;      // how often each light was asked at the last vertex
    ImageAsks image_asks_;          // and their images

    Aim aim_;

    Ray ray_;
    Vec3 at_{0, 0, 0};  // the last vertex itself: the ray starts a hair off it
    Spectrum throughput_{1.0F};
    bool on_a_surface_ = false;         // the light paid now fell on the first surface, not straight into the lens
    bool bounced_ = false;              // whether what is paid now was bounced between its light and the first surface
    bool asked_ = false;                // whether lights were asked at the last vertex
    float first_asks_ = 1;              // lights asked at the first surface
    std::optional<Analyser> analyser_;  // until the first surface is behind
    VeilPlan veils_;
    int first_veils_ = 0;    // met before the first surface
    float looks_ = 0;        // looks from light paths at the start, per walk
    float enough_ = 0;       // see worth_a_ray()
    float connections_ = 0;  // how many samples the join at this vertex counts for
    float pdf_ = 1;          // per steradian, of the direction last taken
    VeilPlan way_;           // what the way last gone met
    float cosine_ = 1;
    float others_ = 0;
};

void CameraWalk::start_at(const MeterPoint& meter) {
    enough_ = enough_of_a_walk * meter.expected;
    if (meter.kind == MeterKind::spot) {
        const float u = sampler_.next(), v = sampler_.next();
        start_along(Ray{meter.at, drawn_in_spot(meter, u, v)});
        return;
    }
    looks_ = sharing_.look_samples();

    const float u0 = sampler_.next(), u1 = sampler_.next(), which = sampler_.next();
    pick_lights(meter.at, asks_of_a_meter, [&](std::size_t light, const Incoming& in) {
        const float response = meter.response(in.toward);
        if (response <= 0) return;
        Spectrum given = in.radiance * response;
        float walked = pdf_of(meter, aim_, in.toward);
        if (!light_arrives(scene_, light, in, ray_to_point(meter.at, meter.at, in.toward, in.distance), given, walked))
            return;
        if (surfaces_ != nullptr) group_ = surfaces_->group(scene_.rays, meter.at, in.toward);
        const float asked = chances_[light] * in.pdf;
        pay(scene_.lights.layer(light, in.toward), given * (1.0F / (asked + counted(walked, asked))));
    });

    each_image(scene_, meter.at, image_asks_, sampler_, [&](std::size_t light, const LightImage& image) {
        const float response = meter.response(image.toward);
        if (response <= 0) return;
        Spectrum given = image.in.radiance * image.share * response;
        float walked = pdf_of(meter, aim_, image.toward);
        if (!image_arrives(scene_, light, image, image.ray_from(meter.at, meter.at), given, walked)) return;
        if (surfaces_ != nullptr) group_ = surfaces_->group(scene_.rays, meter.at, image.toward);
        const float asked = image.in.pdf;
        pay(scene_.lights.layer(light, image.in.toward), given * (1.0F / (asked + counted(walked, asked))));
    });

    // Set out as the meter weighs directions, or now and then towards an opening, a mirror or what is bright.
    ray_.origin = at_ = meter.at;
    ray_.direction = drawn_direction(meter, u0, u1);
    const float aimed = aim_.share_of_a_meter(), bright = share_of_aims(meter);
    if (which < aimed) {
        const auto seen = aim_.drawn_from_a_meter(meter.at, u0, u1, which);
        if (!seen) {
            throughput_ = Spectrum{};
            return;
        }
        ray_.direction = seen->direction;
    } else if (which < aimed + bright) {
        ray_.direction = drawn_from(meter.aims, (which - aimed) / bright, u0, u1);
    }
    if (surfaces_ != nullptr) group_ = surfaces_->group(scene_.rays, meter.at, ray_.direction);
    pdf_ = pdf_of(meter, aim_, ray_.direction);
    throughput_ = pdf_ > 0 ? Spectrum{meter.response(ray_.direction) / pdf_} : Spectrum{};
}

void CameraWalk::go() {
    for (int meetings = 0;; ++meetings) {
        if (throughput_.dark()) return;
        if (analyser_) veils_.analyser = &*analyser_;
        const auto hit = next_meeting(scene_, ray_, throughput_, sampler_, veils_);
        if (meetings == 0) first_veils_ = veils_.met;
        way_ = veils_;
        veils_ = VeilPlan{};
        if (way_.folds > 0) {
            analyser_.reset();
            if (meetings == 0) split_ = nullptr;  // what a mirror shows is not to be smoothed as if it lay on it
        }
        on_a_surface_ = meetings > 0;
        bounced_ = meetings > 1;  // a light met from the first surface shone on it directly
        if (!hit) return leave_the_place();
        if (const int light = scene_.rays.part(hit->part).light; light >= 0)
            return end_in_light(static_cast<std::size_t>(light), *hit);

        Vertex v(scene_.rays, *hit, ray_.direction, throughput_);
        const float cosine = v.cosine(v.from);
        if (cosine < 1e-6F) return;
        const float reach = 1.0F / (pdf_ * cosine);  // d^2 / (area pdf of this vertex)
        if (way_.folds == 0)                         // nobody joins over a mirror
            v.here = (meetings == 0 ? looks_ : connections_) * reach * v.distance * v.distance / way_.chance;
        v.before = meetings == 0 ? 0.0F : reach * cosine_ * others_;
        if (v.is_fibre()) v.here = v.before = 0;  // where no walk from a light goes on

        on_a_surface_ = true;
        bounced_ = meetings > 0;
        sample_lights(v, meetings == 0 ? first_asks_ : 1.0F);
        if (!scene_.mirrors.empty()) sample_images(v);
        bounced_ = true;
        const bool in_view = meetings == 0 && looks_ <= 0;
        const int candidates = in_view ? candidates_in_view : std::min(sharing_.candidates, candidates_in_view);
        connections_ =
            in_view ? static_cast<float>(candidates) * sharing_.samples_a_candidate() : sharing_.connection_samples;
        // Within hair walks are long, and other surfaces far: nothing is joined but what is in view.
        if (v.is_fibre() && !in_view) connections_ = 0;
        if (!pool_.vertices.empty() && connections_ > 0) connect_to_light_path(v, candidates);

        const float u0 = sampler_.next(), u1 = sampler_.next(), u2 = sampler_.next();
        const auto bounce = aim_.bounce(v, u0, u1, u2);
        if (!bounce) return;
        const float goes_on = survival_probability(meetings, sharing_.patience, v.surface->largest_share());
        if (goes_on < 1.0F && sampler_.next() >= goes_on) return;
        const Spectrum weight = analyser_ ? sent(v, bounce->to) * (1.0F / bounce->pdf) : bounce->weight;
        throughput_ *= weight * (1.0F / goes_on);
        pdf_ = bounce->pdf;
        cosine_ = v.cosine(bounce->to);
        others_ = v.weight_of_others(v.pdf_to_eye(bounce->to, v.from));
        ray_ = Ray{v.lifted_to(bounce->to), bounce->to};
        at_ = v.position;
        analyser_.reset();
    }
}

/// The walk met a light. Other ways to the same path: asking that light at the last vertex, or a walk from it.
void CameraWalk::end_in_light(std::size_t light, const Hit& hit) {
    const Vec3 outward = -ray_.direction;
    Spectrum radiance = scene_.lights.radiance(light, hit, outward);
    if (radiance.dark()) return;
    if (analyser_) radiance *= analyser_->of(scene_.lights.polarisation(light, ray_.direction));
    // Walks from either end pay the chance of passing veils; shadow rays do not.
    float walked = pdf_;
    if (others_ > 0) {
        // Where nothing was folded, the last fold is at no mirror and adds nothing.
        walked += emission_pdf_by(scene_, light, way_.last.mirror, way_.last.chance, hit, outward) * cosine_ * others_;
    }
    walked *= way_.chance;
    float asked = 0;
    if (asked_ && way_.folds == 0)
        asked = chances_[light] * scene_.lights.incoming_pdf(light, at_, hit, ray_.direction);
    if (asked_ && way_.folds == 1)
        asked = image_pdf(scene_, way_.last.mirror, light, at_, image_asks_, hit, ray_.direction);
    if (!on_a_surface_ && counted(walked, asked) <= 0) return;
    pay(scene_.lights.layer(light, ray_.direction), throughput_ * radiance * (pdf_ * way_.chance / (walked + asked)));
}

void CameraWalk::leave_the_place() {
    Hit end;
    end.position = ray_.origin;
    end.distance = std::numeric_limits<float>::infinity();
    for (const std::size_t light : scene_.lights.outside()) end_in_light(light, end);
}

/// Next event estimation: one light (or a few) is asked for what arrives here.
void CameraWalk::sample_lights(const Vertex& v, float asks) {
    pick_lights(v.position, asks, [&](std::size_t light, const Incoming& in) {
        Spectrum given = sent(v, in.toward);
        if (given.dark()) return;
        const float asked = chances_[light] * in.pdf;
        float walked = aim_.pdf(v, v.from, in.toward);
        if (sharing_.light_paths > 0)
            walked += scene_.lights.emission_pdf(light, light_met(in, v.position), -in.toward) * v.cosine(in.toward) *
                      v.weight_of_others(v.pdf_to_eye(in.toward, v.from));
        given *= v.throughput * in.radiance;
        given *= 1.0F / (asked + walked);
        float passed = 1;
        if (worth_a_ray(given, enough_, sampler_) &&
            light_arrives(scene_, light, in, v.ray_to(in.toward, in.distance), given, passed))
            pay(scene_.lights.layer(light, in.toward), given * ((asked + walked) / (asked + walked * passed)));
    });
}

/// The same by way of each mirror that may show a light here.
void CameraWalk::sample_images(const Vertex& v) {
    each_image(scene_, v.position, image_asks_, sampler_, [&](std::size_t light, const LightImage& image) {
        const Incoming& in = image.in;
        Spectrum given = sent(v, image.toward);
        if (given.dark()) return;
        float walked = aim_.pdf(v, v.from, image.toward);
        if (sharing_.light_paths > 0) {
            const Hit end = light_met(in, image.on_mirror, image.to_mirror);
            const float emitted = emission_pdf_by(scene_, light, image.mirror, image.chance, end, -in.toward);
            walked += emitted * v.cosine(image.toward) * v.weight_of_others(v.pdf_to_eye(image.toward, v.from));
        }
        given *= v.throughput * in.radiance * image.share;
        given *= 1.0F / (in.pdf + walked);
        float passed = 1;
        if (worth_a_ray(given, enough_, sampler_) &&
            image_arrives(scene_, light, image, v.ray_to(image.toward, image.to_mirror), given, passed))
            pay(scene_.lights.layer(light, in.toward), given * ((in.pdf + walked) / (in.pdf + walked * passed)));
    });
}

Spectrum CameraWalk::connection(const Vertex& v, const Vertex& y, float& walked) const {
    const Vec3 between = y.position - v.position;
    const float d2 = between.length2();
    if (d2 < 1e-8F) return Spectrum{};
    const Vec3 toward = between / std::sqrt(d2);
    const float cos_v = v.cosine(toward);
    const float cos_y = y.cosine(-toward);
    if (cos_y < 1e-6F) return Spectrum{};
    Spectrum given = sent(v, toward);
    given *= y.brought(-toward);
    if (given.dark()) return given;
    const float earlier = y.pdf_to_eye(y.from, -toward) * cos_v / d2 * v.weight_of_others(v.pdf_to_eye(toward, v.from));
    const float later = aim_.pdf(v, v.from, toward) * cos_y / d2 * y.weight_of_others(aim_.pdf(y, -toward, y.from));
    walked = earlier + later;
    const float weight = connections_ / (connections_ + walked);
    given *= v.throughput * y.throughput;
    return given * (weight / d2);
}

float CameraWalk::resampling_target(const Vertex& v, const Vertex& y) const {
    const auto mirror = [](const Surface& s) { return s.pane || s.metal_share > 0; };
    if (mirror(*v.surface) || mirror(*y.surface)) {
        float walked = 0;
        return photometric(connection(v, y, walked));
    }
    return promise_of_join(v, y, connections_);
}

/// Vertex connection: looks at a few light vertices and joins one of them, picked by what it promises (resampled
/// importance sampling, Talbot 2005): one ray, spent where the light is.
void CameraWalk::connect_to_light_path(const Vertex& v, int candidates) {
    const auto count = pool_.vertices.size();
    float pick = sampler_.next();
    const float first = sampler_.next();
    std::array<std::size_t, candidates_in_view> numbers{};
    const std::span<std::size_t> looked_at(numbers.data(), static_cast<std::size_t>(candidates));
    for (std::size_t i = 0; i < looked_at.size(); ++i) {
        float u = first + static_cast<float>(i) / static_cast<float>(candidates);
        u -= std::floor(u);
        looked_at[i] = std::min(static_cast<std::size_t>(u * static_cast<float>(count)), count - 1);
        __builtin_prefetch(&pool_.vertices[looked_at[i]]);  // all on their way at once
    }
    std::size_t chosen = 0;
    float target_of_chosen = 0, sum = 0;
    for (const std::size_t number : looked_at) {
        const float target = resampling_target(v, pool_.vertices[number]);
        if (!(target > 0)) continue;
        // Keeps each with the chance of its share of the sum so far; the number is stretched to be used again.
        sum += target;
        const float chance = target / sum;
        if (pick < chance) {
            pick /= chance;
            chosen = number;
            target_of_chosen = target;
        } else {
            pick = (pick - chance) / (1.0F - chance);
        }
    }
    if (!(target_of_chosen > 0)) return;
    const Vertex& y = pool_.vertices[chosen];
    float walked = 0;
    Spectrum given = connection(v, y, walked);
    given *= sum / target_of_chosen / static_cast<float>(candidates) * static_cast<float>(count) /
             static_cast<float>(pool_.paths);
    const Vec3 between = y.position - v.position;
    float passed = 1;
    if (worth_a_ray(given, enough_, sampler_) &&
        scene_.rays.passes(v.ray_to(y, between / between.length()), given, -1, &passed))
        pay(pool_.layers[chosen], given * ((connections_ + walked) / (connections_ + walked * passed)));
}

}  // namespace

void collect_at_meter(const Scene& scene, const MeterPoint& meter, const LightPaths& pool, const Sharing& sharing,
                      Sampler sampler, std::span<Spectrum> layers, const LastSurfaces* last_surfaces) {
    CameraWalk walk(scene, pool, sharing, sampler, layers, nullptr, last_surfaces);
    walk.start_at(meter);
    walk.go();
}

void collect_along(const Scene& scene, const Ray& ray, const LightPaths& pool, const Sharing& sharing, Sampler& sampler,
                   std::span<Spectrum> layers, SplitLight* split, const Analyser* analyser) {
    CameraWalk walk(scene, pool, sharing, sampler, layers, split);
    walk.start_along(ray);
    walk.plan_veils(VeilPlan::pass_all, 1.0F);
    if (analyser != nullptr) walk.look_through(*analyser);
    walk.go();
    const int veils = walk.first_veils();
    if (veils == 0) return;
    // The view goes through glass or a net: what those send back themselves is a second walk.
    CameraWalk reflected(scene, pool, sharing, sampler, layers, split);
    reflected.start_along(ray);
    const int at = std::min(static_cast<int>(sampler.next() * static_cast<float>(veils)), veils - 1);
    reflected.plan_veils(at, static_cast<float>(veils));
    if (analyser != nullptr) reflected.look_through(*analyser);
    reflected.go();
}

}  // namespace rushlight
