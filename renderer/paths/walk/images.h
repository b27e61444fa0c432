// Images of lights in flat mirrors, asked for as lights are. Next event estimation through one mirror: the light is
// asked from the image of the point, and the way to it is folded where it crosses the mirror.
#pragma once

#include "paths/walk/sampler.h"
#include "paths/walk/vertex.h"
#include "scene/scene.h"

#include <cmath>
#include <optional>

namespace rushlight {

struct LightImage {
    int mirror = -1;
    Incoming in;          // as from the image of the point: what of it lies beyond the mirror is as it is
    Vec3 toward;          // unit, from the point to the mirror
    Vec3 on_mirror;       // where the way is folded
    float to_mirror = 0;  // m
    Spectrum share;       // that is mirrored
    float chance = 1;     // with which a walk is mirrored there
    /// From `start`, a hair off the point `at`, to the mirror.
    Ray ray_from(const Vec3& start, const Vec3& at) const { return ray_to_point(start, at, toward, to_mirror); }
};

/// How often images are asked for at a point: by what a light is expected to give by way of the mirror, beside what all
/// are expected to give without.
struct ImageAsks {
    float lux = 0;   // of all lights, without mirrors
    float asks = 1;  // of lights, on average
    float chance(const Scene& scene, std::size_t mirror, std::size_t light, const Vec3& at) const;
};

/// The image of one light in one mirror, if it shows at `at`; u, v in 0..1.
std::optional<LightImage> image_of(const Scene& scene, int mirror, std::size_t light, const Vec3& at, float u, float v);

/// Pdf, per steradian at `at`, with which this end of a light is asked for there; it is seen along `toward` from the
/// mirror.
float image_pdf(const Scene& scene, int mirror, std::size_t light, const Vec3& at, const ImageAsks& asks,
                const Hit& end, const Vec3& toward);

/// Where a light is met that was asked for from `at`, `gone` metres on the way to it.
inline Hit light_met(const Incoming& in, const Vec3& at, float gone = 0) {
    Hit end;
    end.position = std::isinf(in.distance) ? at : at + in.toward * (in.distance - gone);
    end.distance = in.distance;
    end.primitive = in.primitive;
    return end;
}

/// A meter's walks come upon the sun, or its image, so seldom that the spread between them would not tell of what they
/// bring: where they would find a light so much less often than asking does, asking counts alone (cutoff heuristic,
/// Veach 1997).
inline float counted(float walked, float asked) {
    constexpr float hardly_found = 0.05F;
    return walked < hardly_found * asked ? 0.0F : walked;
}

/// Pdf with which light paths set out by a way that meets `mirror` first and is mirrored there with `chance`: from the
/// light itself, and those of the sun that start at the mirror.
inline float emission_pdf_by(const Scene& scene, std::size_t light, int mirror, float chance, const Hit& end,
                             const Vec3& outward) {
    return scene.lights.emission_pdf(light, end, outward) +
           scene.lights.emission_pdf_at_mirror(light, mirror, outward) / chance;
}

/// Whether a light gets here against `ray`. `walked` is multiplied by the chance that a walk gets there too.
inline bool light_arrives(const Scene& scene, std::size_t light, const Incoming& in, const Ray& ray, Spectrum& given,
                          float& walked) {
    return scene.rays.passes(ray, given, in.round ? static_cast<int>(light) : -1, &walked);
}
/// Whether the image gets to the point: `to_mirror` is the ray from there to the mirror. See RayScene::passes().
bool image_arrives(const Scene& scene, std::size_t light, const LightImage& image, const Ray& to_mirror,
                   Spectrum& given, float& walked);

/// Those that are asked for at `at`, of all that may show there: the pdf of their light holds the chance of that.
template <class Received>
void each_image(const Scene& scene, const Vec3& at, const ImageAsks& asks, Sampler& sampler, const Received& received) {
    for (std::size_t m = 0; m < scene.mirrors.size(); ++m) {
        const Rectangle& mirror = scene.mirrors[m].face.rectangle;
        const Vec3 in_frame = in_frame_of(mirror, at - mirror.centre);
        for (std::size_t light = 0; light < scene.lights.count(); ++light) {
            if (!scene.lights.may_show(light, m, in_frame)) continue;
            const float chance = asks.chance(scene, m, light, at);
            if (chance < 1.0F && sampler.next() >= chance) continue;
            const float u = sampler.next(), v = sampler.next();
            auto image = image_of(scene, static_cast<int>(m), light, at, u, v);
            if (!image) continue;
            image->in.pdf *= chance;
            received(light, *image);
        }
    }
}

}  // namespace rushlight
