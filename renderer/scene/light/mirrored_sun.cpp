#include "scene/light/mirrored_sun.h"

#include "scene/rays/ray_scene.h"
#include "scene/surface/choices.h"
#include "scene/surface/directions.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

Whereabouts::Whereabouts(const Rectangle& mirror, const Vec3& its_centre, float its_radius, bool is_far)
    : centre(in_frame_of(mirror, is_far ? its_centre : its_centre - mirror.centre)),
      radius(its_radius),
      far(is_far),
      half_width(mirror.half_width),
      half_height(mirror.half_height) {}

bool may_show(const Whereabouts& light, const Vec3& at) {
    const float side = at.z < 0 ? -1.0F : 1.0F;
    const float height = at.z * side, over = light.centre.z * side;
    if (!(height > 1e-5F) || !(over + light.radius > (light.far ? 1e-4F : 0.0F))) return false;
    // Where the way from the image of `at` to any point of the light crosses the mirror's plane, along either axis.
    const float least = std::max(over - light.radius, light.far ? 1e-4F : 0.0F), most = over + light.radius;
    const auto crosses = [&](float here, float along, float half) {
        float low = INFINITY, high = -INFINITY;
        for (const float rise : {least, most})
            for (const float a : {along - light.radius, along + light.radius}) {
                const float crossing =
                    light.far ? here + height * a / rise : here + (a - here) * height / (height + rise);
                low = std::min(low, crossing);
                high = std::max(high, crossing);
            }
        const float slack = 1e-4F + 1e-3F * half;
        return low <= half + slack && high >= -half - slack;
    };
    return crosses(at.x, light.centre.x, light.half_width) && crosses(at.y, light.centre.y, light.half_height);
}

MirroredSun::MirroredSun(const SunLight& sun, std::span<const Mirror> mirrors)
    : disc_pdf_(sun.disc_pdf()),
      toward_(sun.toward()),
      height_(1.0 - sun.cos_radius()),
      radiance_(sun.disc_radiance()) {
    constexpr float least_share = 0.1F, most_share = 0.5F;
    for (std::size_t i = 0; i < mirrors.size(); ++i) {
        const Mirror& m = mirrors[i];
        if (m.pane) continue;
        const Rectangle& r = m.face.rectangle;
        // In a room, mirrors that no sun reaches by an opening are left out: a grid of points tells, the mirror's edges
        // among them.
        constexpr int steps = 8;
        int reached = 0;
        for (int a = 0; a <= steps; ++a)
            for (int b = 0; b <= steps; ++b)
                reached += sun.may_reach(r.at(static_cast<float>(a) / steps, static_cast<float>(b) / steps));
        const float flux = sun.lux() * r.area() * std::abs(r.normal.dot(toward_)) * m.share *
                           static_cast<float>(reached) / ((steps + 1) * (steps + 1));
        if (!(flux > 0)) continue;
        lit_.push_back({static_cast<int>(i), r, flux});
        flux_ += flux;
    }
    if (!(flux_ > 0)) return;
    for (Lit& l : lit_) l.chance /= static_cast<float>(flux_);
    share_ =
        sun.flux() > 0 ? std::clamp(static_cast<float>(flux_ / (flux_ + sun.flux())), least_share, most_share) : 1.0F;
}

const MirroredSun::Lit* MirroredSun::find(int mirror) const {
    for (const Lit& l : lit_)
        if (l.mirror == mirror) return &l;
    return nullptr;
}

EmittedRay MirroredSun::emitted(const std::array<float, 5>& u, int& mirror) const {
    EmittedRay ray;
    const auto picked = pick(lit_.size(), u[4], [&](std::size_t i) { return lit_[i].chance; });
    if (!picked) return ray;
    const Lit& lit = lit_[picked->which];
    mirror = lit.mirror;
    const Vec3 toward = Frame(toward_).to_place(cone_direction(height_, u[2], u[3])).normalized();
    ray.direction = -toward;
    ray.origin = lit.rectangle.at(u[0], u[1]);
    ray.pdf = emission_pdf(mirror, ray.direction);
    ray.throughput = radiance_;
    ray.from_outside = Ray{lifted(ray.origin, lit.rectangle.normal, toward, 1.0F), toward};
    return ray;
}

float MirroredSun::emission_pdf(int mirror, const Vec3& outward) const {
    const Lit* l = find(mirror);
    if (l == nullptr) return 0;
    const float cosine = std::abs(l->rectangle.normal.dot(outward));
    return cosine > 1e-6F ? l->chance * disc_pdf_ / (l->rectangle.area() * cosine) : 0.0F;
}

}  // namespace rushlight
