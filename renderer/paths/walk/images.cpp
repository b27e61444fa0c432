#include "paths/walk/images.h"

#include "paths/walk/vertex.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

float ImageAsks::chance(const Scene& scene, std::size_t mirror, std::size_t light, const Vec3& at) const {
    // What stands in the way of the straight light is not expected: images are asked for rather too often, and never
    // forgotten. Where all lights are asked, faint images are still not worth it every time.
    constexpr float eager = 2.0F, most_asks = 10.0F, floor = 0.02F;
    const Mirror& m = scene.mirrors[mirror];
    const float here = m.share * scene.lights.expected_lux_by_mirror(light, m.face.image(at));
    const float wanted = eager * std::min(asks, most_asks) * here;
    return wanted >= lux ? 1.0F : std::max(floor, wanted / lux);
}

std::optional<LightImage> image_of(const Scene& scene, int mirror, std::size_t light, const Vec3& at, float u,
                                   float v) {
    const Mirror& m = scene.mirrors[static_cast<std::size_t>(mirror)];
    const Vec3 behind = m.face.image(at);
    const auto in = scene.lights.incoming_by_mirror(light, behind, u, v);
    if (!in || !(in->pdf > 0)) return std::nullopt;
    const auto crossing = m.face.rectangle.crossed_by(behind, in->toward);
    if (!crossing || crossing->distance >= in->distance) return std::nullopt;
    LightImage image;
    image.mirror = mirror;
    image.in = *in;
    image.toward = m.face.mirrored(in->toward);
    image.to_mirror = crossing->distance;
    image.on_mirror = behind + in->toward * crossing->distance;
    if (!scene.lights.may_reach(light, image.on_mirror)) return std::nullopt;
    const float cosine = std::abs(crossing->cosine);
    const Surface& surface = scene.rays.surface(scene.rays.part(m.face.part).surface);
    image.share = surface.mirrored_at(cosine);
    image.chance = surface.chances(cosine).mirror;
    if (!(image.chance > 0)) return std::nullopt;
    return image;
}

float image_pdf(const Scene& scene, int mirror, std::size_t light, const Vec3& at, const ImageAsks& asks,
                const Hit& end, const Vec3& toward) {
    if (mirror < 0) return 0;
    const auto m = static_cast<std::size_t>(mirror);
    const FlatFace& face = scene.mirrors[m].face;
    if (!scene.lights.may_show(light, m, in_frame_of(face.rectangle, at - face.rectangle.centre))) return 0;
    return asks.chance(scene, m, light, at) * scene.lights.incoming_pdf(light, face.image(at), end, toward);
}

bool image_arrives(const Scene& scene, std::size_t light, const LightImage& image, const Ray& to_mirror,
                   Spectrum& given, float& walked) {
    const FlatFace& face = scene.mirrors[static_cast<std::size_t>(image.mirror)].face;
    const Vec3& normal = face.rectangle.normal;
    if (!face.whole) {
        constexpr float near = 1e-4F;
        const float side = normal.dot(image.in.toward) < 0 ? -1.0F : 1.0F;
        const auto met = scene.rays.first_hit(Ray{image.on_mirror + normal * (side * near), normal * -side, 2 * near});
        if (!met || met->part != face.part) return false;
    }
    walked *= image.chance;
    if (!scene.rays.passes(to_mirror, given, -1, &walked)) return false;
    const Vec3 start = lifted(image.on_mirror, normal, image.in.toward, image.to_mirror);
    return light_arrives(scene, light, image.in,
                         ray_to_point(start, image.on_mirror, image.in.toward, image.in.distance - image.to_mirror),
                         given, walked);
}

}  // namespace rushlight
