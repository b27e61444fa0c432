#include "results/frame/surfaces_seen.h"

#include "paths/work/workers.h"
#include "quantity/units.h"
#include "results/frame/surface_guides.h"
#include "results/network/network.h"
#include "scene/rays/first_seen.h"

#include <cmath>

namespace rushlight {

namespace {

/// Whether one sees other things in it than itself; what is rougher shows no images.
bool shows_images(const Surface& s) {
    constexpr float mirror_alpha = 0.08F;
    return s.metal_share > 0.5F && s.alpha < mirror_alpha;
}

/// `plain` is told whether this surface is all that there is to see: no glass, net, mirror or fibre.
SurfaceSeen seen_along(const Scene& scene, const Ray& ray, bool* plain = nullptr) {
    SurfaceSeen seen;
    seen.normal = -ray.direction;
    bool through = false;
    const auto hit = first_seen(scene.rays, ray, [&](const Part& p, const Surface& s) {
        const bool passed = looked_through(p, s);
        through = through || passed;
        return passed;
    });
    if (plain != nullptr) *plain = !through;
    if (!hit) return seen;
    const Surface& s = scene.rays.surface_of(*hit);
    if (plain != nullptr) *plain = !through && !s.fibre && !s.veil() && !shows_images(s);
    seen.distance = hit->distance;
    seen.normal = hit->normal.dot(ray.direction) > 0 ? -hit->normal : hit->normal;
    if (s.fibre) {  // hair has no one way that it faces; its light is smoothed with that of the hair around
        seen.normal = -ray.direction;
        seen.albedo = Spectrum{0.5F};
        seen.hair = true;
        return seen;
    }
    seen.albedo = s.matt * static_cast<float>(pi) + s.through * static_cast<float>(pi) + s.metal + Spectrum{s.coat};
    return seen;
}

/// What is seen along a ray, for the denoising network.
struct CleanlySeen {
    Vec3 albedo{0, 0, 0}, normal{0, 0, 0};
    float hair = 0;
};

constexpr int most_glass = 12, most_images = 3;

/// On through panes and nets; panes and mirrors show what they reflect as well, by their shares.
CleanlySeen cleanly_seen_along(const Scene& scene, const Ray& ray, int glass = 0, int images = 0) {
    const auto hit = scene.rays.first_hit(ray);
    if (!hit) return {};
    const Surface& s = scene.rays.surface_of(*hit);
    const Vec3 normal = hit->normal.dot(ray.direction) > 0 ? -hit->normal : hit->normal;
    CleanlySeen seen;
    seen.normal = normal;
    if (s.fibre) {
        const float along = hit->frame.way.dot(ray.direction);
        const Vec3 across = hit->frame.way * along - ray.direction;
        if (across.length2() > 1e-6F) seen.normal = across.normalized();
        seen.albedo = reflectance_seen(s.fibre->share(along));
        return seen;
    }
    seen.albedo = reflectance_seen(s.matt * pi_f + s.through * pi_f + s.metal + Spectrum{s.coat});
    const float cosine = -normal.dot(ray.direction);
    const auto beyond = [&](const Vec3& direction, const Spectrum& share, int more_glass, int more_images) {
        CleanlySeen other =
            cleanly_seen_along(scene, {lifted(hit->position, hit->normal, direction, hit->distance), direction},
                               glass + more_glass, images + more_images);
        const Vec3 passed = reflectance_seen(share);
        other.albedo *= passed;
        other.normal *= passed.y;
        return other;
    };
    const Vec3 back = ray.direction + normal * (2 * cosine);
    if (s.pane || s.veil()) {
        if (glass == most_glass) return seen;
        const CleanlySeen through = beyond(ray.direction, s.straight_at(cosine), 1, 0);
        if (s.pane) seen.albedo = seen.normal = Vec3(0, 0, 0);
        seen.normal = seen.normal * (1 - s.straight_share) + through.normal;
        seen.albedo += through.albedo;
        if (!s.pane || images == most_images) return seen;
        const float reflected = pane_shares(cosine, s.pane_index, s.pane_transmittance).reflected;
        const CleanlySeen image = beyond(back, Spectrum{reflected}, 0, 1);
        seen.normal += image.normal;
        seen.albedo += image.albedo;
        return seen;
    }
    if (shows_images(s) && images < most_images) return beyond(back, s.metal, 0, 1);
    return seen;
}

float radical_inverse(std::size_t i, unsigned base) {
    float value = 0, share = 1;
    for (; i > 0; i /= base) {
        share /= static_cast<float>(base);
        value += share * static_cast<float>(i % base);
    }
    return value;
}

/// Where the parts of a fringe look: even over the pixel, and over the lens.
struct InPixel {
    float x, y, u, v;
};
InPixel in_pixel(std::size_t part) {
    const float count = static_cast<float>(Fringe{}.parts.size());
    return {(static_cast<float>(part) + 0.5F) / count, radical_inverse(part, 2) + 0.5F / count,
            radical_inverse(part, 3), radical_inverse(part, 5)};
}

/// What a pixel looks at: through glass and nets, along its middle, or as a mean over a lens that opens; and cleanly,
/// as a mean over the pixel too. A pixel that mostly looks at nothing is at no distance.
struct PixelSeen {
    SurfaceSeen first;
    CleanlySeen clean;
};
PixelSeen seen_by_pixel(const Scene& scene, const CameraView& view, float x, float y, bool cleanly) {
    // The middle and some round it; more where those differ.
    constexpr std::size_t few = 4, many = 16;
    std::array<SurfaceSeen, many> all;
    CleanlySeen sum;
    float squares = 0;
    std::size_t n = 0;
    for (std::size_t enough = cleanly || view.opens() ? few : 1; n < enough; ++n) {
        const Ray ray = n == 0 ? view.ray(x + 0.5F, y + 0.5F)
                               : view.ray(x + radical_inverse(n, 2), y + radical_inverse(n, 3), radical_inverse(n, 5),
                                          radical_inverse(n, 7));
        bool plain = true;
        all[n] = seen_along(scene, ray, &plain);
        CleanlySeen one;
        if (cleanly && !plain)
            one = cleanly_seen_along(scene, ray);
        else if (std::isfinite(all[n].distance))
            one = {reflectance_seen(all[n].albedo), all[n].normal, 0};
        sum.albedo += one.albedo;
        sum.normal += one.normal;
        sum.hair += all[n].hair ? 1.0F : 0.0F;
        squares += one.albedo.length2() + one.normal.length2();
        if (n + 1 == few && squares * few - sum.albedo.length2() - sum.normal.length2() > 0.01F * few * few)
            enough = many;
    }
    const auto rays = static_cast<float>(n);
    PixelSeen seen{all[0], {sum.albedo / rays, sum.normal / rays, sum.hair / rays}};
    if (!view.opens()) return seen;
    SurfaceSeen& mean = seen.first = SurfaceSeen{};
    mean.normal = Vec3(0, 0, 0);
    float distance = 0;
    std::size_t hits = 0, hairs = 0;
    for (std::size_t i = 0; i < n; ++i) {
        mean.normal += all[i].normal;
        if (!std::isfinite(all[i].distance)) continue;
        distance += all[i].distance;
        mean.albedo += all[i].albedo;
        hairs += all[i].hair ? 1 : 0;
        ++hits;
    }
    mean.albedo *= 1.0F / static_cast<float>(n);
    mean.hair = 2 * hairs >= n;
    if (mean.normal.length2() < 1e-6F) mean.normal = -view.forward();
    mean.normal.normalize();
    if (2 * hits >= n) mean.distance = distance / static_cast<float>(hits);
    for (std::size_t i = 0; i < n; ++i)
        mean.mixed = mean.mixed || all[i].normal.dot(mean.normal) < 0.95F ||
                     !(std::abs(all[i].distance - mean.distance) < 0.05F * mean.distance);
    return seen;
}

}  // namespace

std::size_t most_fringes(std::size_t pixels) {
    return pixels / 5;
}

void see_surfaces(const Scene& scene, const CameraView& view, LayeredFrame& frame, const Effort& effort) {
    const std::size_t pixels = static_cast<std::size_t>(frame.width) * static_cast<std::size_t>(frame.height);
    frame.normal.resize(pixels);
    frame.distance.resize(pixels);
    frame.albedo.resize(pixels);
    frame.hair.resize(pixels);
    if (view.opens()) frame.mixed.resize(pixels);
    if (has_network()) {
        frame.clean_albedo.resize(pixels);
        frame.clean_normal.resize(pixels);
        frame.clean_hair.resize(pixels);
    }
    for_each_piece(effort, static_cast<std::size_t>(frame.height), [&](std::size_t row) {
        for (int x = 0; x < frame.width; ++x) {
            const std::size_t p = frame.at(x, static_cast<int>(row));
            const auto [seen, clean] =
                seen_by_pixel(scene, view, static_cast<float>(x), static_cast<float>(row), has_network());
            frame.distance[p] = seen.distance;
            frame.normal[p] = seen.normal;
            frame.albedo[p] = seen.albedo;
            frame.hair[p] = seen.hair ? 1 : 0;
            if (view.opens()) frame.mixed[p] = seen.mixed ? 1 : 0;
            if (frame.clean_albedo.empty()) continue;
            frame.clean_albedo[p] = clean.albedo;
            frame.clean_normal[p] = clean.normal;
            frame.clean_hair[p] = clean.hair;
        }
    });
    const std::vector<Guide> guides = guides_of(frame);
    for (std::size_t p = 0; p < pixels && frame.fringes.size() < most_fringes(pixels); ++p)
        if (guides[p].edge && guides[p].blurred == 0) frame.fringes.push_back({p, {}});
    constexpr std::size_t piece = 256;
    for_each_piece(effort, (frame.fringes.size() + piece - 1) / piece, [&](std::size_t number) {
        const std::size_t end = std::min(frame.fringes.size(), (number + 1) * piece);
        for (std::size_t i = number * piece; i < end; ++i) {
            Fringe& fringe = frame.fringes[i];
            const auto x = static_cast<float>(fringe.pixel % static_cast<std::size_t>(frame.width));
            const auto y = static_cast<float>(fringe.pixel / static_cast<std::size_t>(frame.width));
            for (std::size_t part = 0; part < fringe.parts.size(); ++part) {
                const InPixel at = in_pixel(part);
                fringe.parts[part] = seen_along(scene, view.ray(x + at.x, y + at.y, at.u, at.v));
            }
        }
    });
}

}  // namespace rushlight
