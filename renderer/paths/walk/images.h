// Images of lights in flat mirrors, asked for as lights are. Next event estimation through one mirror: the light is
// asked from the image of the point, and the way to it is folded where it crosses the mirror.
#pragma once

#include "paths/walk/sampler.h"
#include "scene/scene.h"

#include <optional>

namespace rushlight {

struct Image {
    int mirror = -1;
    Incoming in;          // as from the image of the point: what of it lies beyond the mirror is as it is
    Vec3 toward;          // unit, from the point to the mirror
    Vec3 on_mirror;       // where the way is folded
    float to_mirror = 0;  // m
    Spectrum share;       // that is mirrored
    float chance = 1;     // with which a walk is mirrored there
};

/// The image of one light in one mirror, if it shows at `at`; u, v in 0..1.
std::optional<Image> image_of(const Scene& scene, int mirror, std::size_t light, const Vec3& at, float u, float v);

/// Pdf, per steradian at `at`, with which image_of() picks this end of a light; it is seen along `toward` from the
/// mirror.
float image_pdf(const Scene& scene, int mirror, std::size_t light, const Vec3& at, const Hit& end, const Vec3& toward);

/// Whether a light gets here against `ray`. `walked` is multiplied by the chance that a walk gets there too.
inline bool light_arrives(const Scene& scene, std::size_t light, const Incoming& in, const Ray& ray, Spectrum& given,
                          float& walked) {
    return scene.rays.passes(ray, given, in.round ? static_cast<int>(light) : -1, &walked);
}
/// Whether the image gets to the point: `to_mirror` is the ray from there to the mirror. See RayScene::passes().
bool image_arrives(const Scene& scene, std::size_t light, const Image& image, const Ray& to_mirror, Spectrum& given,
                   float& walked);

/// All that may show at `at`.
template <class Received>
void each_image(const Scene& scene, const Vec3& at, Sampler& sampler, const Received& received) {
    for (std::size_t m = 0; m < scene.mirrors.size(); ++m)
        for (std::size_t light = 0; light < scene.lights.count(); ++light) {
            const auto& where = scene.lights.whereabouts(light);
            if (!where || !may_show(*where, scene.mirrors[m].face.rectangle, at)) continue;
            const float u = sampler.next(), v = sampler.next();
            if (const auto image = image_of(scene, static_cast<int>(m), light, at, u, v)) received(light, *image);
        }
}

}  // namespace rushlight
