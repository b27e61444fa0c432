#include "results/preview_filter.h"

#include "paths/workers.h"
#include "quantity/colour.h"
#include "scene/camera_view.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace rushlight {

namespace {

// Cubic B-spline, from the middle out.
constexpr std::array<float, 3> kernel{3.0F / 8, 1.0F / 4, 1.0F / 16};
constexpr int most_levels = 5, most_soft_levels = 3;
// Hair keeps its locks: nothing from further off than these pixels.
constexpr int widest_step_in_hair = 2;
constexpr float depth_of_hair = 0.03F;  // m
// Noise that the eye forgives in a preview, as a share of the pixel.
constexpr double forgiven_noise = 0.02;
// Below this reflectance there is no telling light from surface.
constexpr float least_reflectance = 0.004F;

struct Guide {
    Vec3 position{0, 0, 0}, normal{0, 0, 1};
    float slack = 0;    // m off the plane that still counts as the same surface; 0: nothing is here
    bool hair = false;  // many fibres, none of them a surface: alike as far as they are near
    bool edge = false;  // part of the pixel sees something else: its light is no example for others
    int blurred = 0;    // out of focus over several surfaces: pixels that its blur spans; takes after all around it
};

Vec3 reflectance_of_pixel(const Spectrum& albedo) {
    static const Tristimulus white = tristimulus(equal_energy());
    const Tristimulus t = tristimulus(albedo * equal_energy());
    return {static_cast<float>(t.x / white.x), static_cast<float>(t.y / white.y), static_cast<float>(t.z / white.z)};
}

float likeness(const Guide& a, const Guide& b) {
    float same = a.normal.dot(b.normal);
    if (same <= 0 || a.hair != b.hair) return 0;
    for (int i = 0; i < 5; ++i) same *= same;  // 32nd power: 12 degrees leave half
    const float off = a.normal.dot(b.position - a.position) / a.slack;
    const float near = 1.0F / (1.0F + off * off);
    return same * near * near;
}

/// One level of the filter: every pixel becomes a mean of its likenesses, `step` pixels apart; with `hair_alone` no
/// other is touched.
void smooth(const LayeredFrame& frame, const std::vector<Guide>& guides, int step, const std::vector<Vec3>& light,
            std::vector<Vec3>& smoothed, bool hair_alone = false) {
    for_each_piece(Effort{}, static_cast<std::size_t>(frame.height), [&](std::size_t row) {
        const int y = static_cast<int>(row);
        for (int x = 0; x < frame.width; ++x) {
            const std::size_t p = frame.at(x, y);
            smoothed[p] = light[p];
            if (hair_alone ? !guides[p].hair : guides[p].hair && step > widest_step_in_hair) continue;
            if (guides[p].slack <= 0 || (guides[p].blurred > 0 && 2 * step > guides[p].blurred)) continue;
            Vec3 sum(0, 0, 0);
            float weights = 0;
            for (int j = -2; j <= 2; ++j)
                for (int i = -2; i <= 2; ++i) {
                    const int qx = x + i * step;
                    const int qy = y + j * step;
                    if (qx < 0 || qy < 0 || qx >= frame.width || qy >= frame.height) continue;
                    const std::size_t q = frame.at(qx, qy);
                    if (guides[q].slack <= 0 || (guides[q].edge && guides[p].blurred == 0)) continue;
                    const float like = guides[p].blurred > 0 ? 1.0F : likeness(guides[p], guides[q]);
                    const float w = kernel[static_cast<std::size_t>(std::abs(i))] *
                                    kernel[static_cast<std::size_t>(std::abs(j))] * like;
                    sum += light[q] * w;
                    weights += w;
                }
            if (weights > 0) smoothed[p] = sum / weights;
        }
    });
}

void spread_wide(const LayeredFrame& frame, const std::vector<Guide>& guides, std::vector<Vec3>& light) {
    std::vector<Vec3> smoothed(light.size());
    for (const int step : {1, 2, 4, 8}) {
        smooth(frame, guides, step, light, smoothed, true);
        std::swap(light, smoothed);
    }
}

/// Rare bright walks through hair would show as sparks: what lies far over the hair around is taken out of `light` and
/// given back spread over all that hair, so that none is lost.
std::vector<Vec3> sparks_of_hair(const LayeredFrame& frame, const std::vector<Guide>& guides,
                                 std::vector<Vec3>& light) {
    constexpr float far_over = 2;
    std::vector<Vec3> usual = light;
    spread_wide(frame, guides, usual);
    std::vector<Vec3> sparks(light.size(), Vec3(0, 0, 0));
    for (std::size_t p = 0; p < light.size(); ++p) {
        // What an edge holds is no example for others: it would be lost.
        if (!guides[p].hair || guides[p].edge || light[p].y <= far_over * usual[p].y) continue;
        const Vec3 kept = usual[p] * far_over;
        sparks[p] = light[p] - kept;
        light[p] = kept;
    }
    const auto all = [](const std::vector<Vec3>& l) {
        double sum = 0;
        for (const Vec3& v : l) sum += static_cast<double>(v.y);
        return sum;
    };
    const double before = all(sparks);
    if (!(before > 0)) return {};
    spread_wide(frame, guides, sparks);
    // Means over neighbours give the rim of the hair more than its share.
    const double after = all(sparks);
    if (!(after > 0)) return {};
    const auto rim = static_cast<float>(before / after);
    for (Vec3& v : sparks) v *= rim;
    return sparks;
}

}  // namespace

std::vector<Vec3> preview_correction(const LayeredFrame& frame) {
    const std::size_t pixels = frame.bounced.size();
    std::vector<Vec3> correction(pixels, Vec3(0, 0, 0));
    // After one pass the noise is not known, and large.
    const double noise = std::isfinite(frame.noise) ? std::max(frame.noise, 1e-6) : 1.0;
    const double excess = std::log2(noise / forgiven_noise);
    if (excess <= 0) return correction;

    const CameraView view(frame.camera, frame.width, frame.height);
    const ThinLens lens = frame.camera.thin_lens();
    std::vector<Guide> guides(pixels);
    std::vector<Vec3> reflectance(pixels);
    for (int y = 0; y < frame.height; ++y)
        for (int x = 0; x < frame.width; ++x) {
            const std::size_t p = frame.at(x, y);
            reflectance[p] = reflectance_of_pixel(frame.albedo[p]);
            const float least = std::min({reflectance[p].x, reflectance[p].y, reflectance[p].z});
            if (!std::isfinite(frame.distance[p]) || least < least_reflectance) continue;
            const Ray ray = view.ray(static_cast<float>(x) + 0.5F, static_cast<float>(y) + 0.5F);
            guides[p] = {ray.origin + ray.direction * frame.distance[p], frame.normal[p],
                         0.004F + 0.003F * frame.distance[p]};
            guides[p].hair = p < frame.hair.size() && frame.hair[p] != 0;
            if (guides[p].hair) guides[p].slack = depth_of_hair;
            if (p >= frame.mixed.size() || frame.mixed[p] == 0) continue;
            const double disc = lens.blur(static_cast<double>(frame.distance[p])) / frame.camera.sensor_width;
            guides[p].blurred = static_cast<int>(disc * frame.width);
            guides[p].edge = guides[p].blurred > 0;
        }
    for (int y = 1; y + 1 < frame.height; ++y)
        for (int x = 1; x + 1 < frame.width; ++x) {
            Guide& here = guides[frame.at(x, y)];
            for (const std::size_t q : {frame.at(x - 1, y), frame.at(x + 1, y), frame.at(x, y - 1), frame.at(x, y + 1)})
                here.edge = here.edge || guides[q].slack <= 0 || likeness(here, guides[q]) < 0.05F;
        }
    // Each level halves the noise, more or less. Skylight keeps the shape of its shadows: fewer levels.
    const int levels = static_cast<int>(std::ceil(excess)) + 1;
    const std::pair<const std::vector<Vec3>*, int> parts[] = {{&frame.bounced, std::min(levels, most_levels)},
                                                              {&frame.soft, std::min(levels, most_soft_levels)}};
    const bool any_hair = std::any_of(guides.begin(), guides.end(), [](const Guide& g) { return g.hair; });
    for (const auto& [part, part_levels] : parts) {
        std::vector<Vec3> light(pixels, Vec3(0, 0, 0));
        std::vector<Vec3> smoothed(pixels);
        for (std::size_t p = 0; p < pixels; ++p)
            if (guides[p].slack > 0) light[p] = (*part)[p] / reflectance[p];
        std::vector<Vec3> sparks;
        if (any_hair) sparks = sparks_of_hair(frame, guides, light);
        for (int level = 0; level < part_levels; ++level) {
            smooth(frame, guides, 1 << level, light, smoothed);
            std::swap(light, smoothed);
        }
        for (std::size_t p = 0; p < sparks.size(); ++p) light[p] += sparks[p];
        for (std::size_t p = 0; p < pixels; ++p)
            if (guides[p].slack > 0) correction[p] += light[p] * reflectance[p] - (*part)[p];
    }
    return correction;
}

}  // namespace rushlight
