#include "results/preview_filter.h"

#include "paths/workers.h"
#include "results/surface_guides.h"
#include "scene/camera_view.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

namespace rushlight {

namespace {

// Cubic B-spline, from the middle out.
constexpr std::array<float, 3> kernel{3.0F / 8, 1.0F / 4, 1.0F / 16};
constexpr int most_levels = 5, most_soft_levels = 3;
// Hair keeps its locks: nothing from further off than these pixels.
constexpr int widest_step_in_hair = 2;
// Noise that the eye forgives in a preview, as a share of the pixel.
constexpr double forgiven_noise = 0.02;

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
    for (const int step : {1, 2, 4, 8, 16}) {
        smooth(frame, guides, step, light, smoothed, true);
        std::swap(light, smoothed);
    }
}

/// Rare bright walks through hair would show as sparks: what lies far over the hair around is taken out of `light` and
/// given back to all hair, so that none is lost.
std::vector<Vec3> sparks_of_hair(const LayeredFrame& frame, const std::vector<Guide>& guides,
                                 std::vector<Vec3>& light) {
    constexpr float far_over = 2;
    std::vector<Vec3> usual, sparks(light.size(), Vec3(0, 0, 0));
    // Twice: what is far over the usual light is part of it at first.
    for (int round = 0; round < 2; ++round) {
        usual = light;
        spread_wide(frame, guides, usual);
        for (std::size_t p = 0; p < light.size(); ++p) {
            // What an edge holds is no example for others: it would be lost.
            if (!guides[p].hair || guides[p].edge || light[p].y <= far_over * usual[p].y) continue;
            sparks[p] += light[p] - usual[p] * far_over;
            light[p] = usual[p] * far_over;
        }
    }
    usual = light;
    spread_wide(frame, guides, usual);
    const auto all = [](const std::vector<Vec3>& l) {
        double sum = 0;
        for (const Vec3& v : l) sum += static_cast<double>(v.y);
        return sum;
    };
    const double before = all(sparks);
    spread_wide(frame, guides, sparks);
    // Means over neighbours give the rim of the hair more than its share.
    const double after = all(sparks);
    if (!(after > 0)) return {};
    for (Vec3& v : sparks) v *= static_cast<float>(before / after);
    // One walk may hold more than all the light around it: of that, as much again stays near, the rest goes to all hair
    // by the light that it has.
    Vec3 rest(0, 0, 0), light_of_hair(0, 0, 0);
    for (std::size_t p = 0; p < light.size(); ++p) {
        if (!guides[p].hair) continue;
        light_of_hair += usual[p];
        if (sparks[p].y <= usual[p].y) continue;
        const Vec3 near = sparks[p] * (usual[p].y / sparks[p].y);
        rest += sparks[p] - near;
        sparks[p] = near;
    }
    if (!(std::min({light_of_hair.x, light_of_hair.y, light_of_hair.z}) > 0)) return sparks;
    for (std::size_t p = 0; p < light.size(); ++p)
        if (guides[p].hair) sparks[p] += usual[p] * (rest / light_of_hair);
    return sparks;
}

/// What falls on a part of a fringe: as on the pixels around that see nothing else; where there are none, as on the
/// fringes around. Nothing where neither are like it.
std::optional<Vec3> light_on(const Guide& part, std::size_t pixel, const LayeredFrame& frame,
                             const std::vector<Guide>& guides, const std::vector<Vec3>& light) {
    constexpr float least_likeness = 0.02F;
    const int x = static_cast<int>(pixel) % frame.width, y = static_cast<int>(pixel) / frame.width;
    for (const bool fringes : {false, true}) {
        Vec3 sum(0, 0, 0);
        float weights = 0;
        for (int qy = std::max(0, y - 2); qy <= std::min(frame.height - 1, y + 2); ++qy)
            for (int qx = std::max(0, x - 2); qx <= std::min(frame.width - 1, x + 2); ++qx) {
                const std::size_t q = frame.at(qx, qy);
                if (guides[q].slack <= 0 || guides[q].edge != fringes) continue;
                const float w = kernel[static_cast<std::size_t>(std::abs(qx - x))] *
                                kernel[static_cast<std::size_t>(std::abs(qy - y))] * likeness(part, guides[q]);
                sum += light[q] * w;
                weights += w;
            }
        if (weights > least_likeness * kernel[0] * kernel[0]) return sum / weights;
    }
    return std::nullopt;
}

/// The pixels on sharp edges, part by part: without it they would show steps.
void correct_fringes(const LayeredFrame& frame, const std::vector<Guide>& guides, const std::vector<Vec3>& light,
                     const std::vector<Vec3>& traced, std::vector<Vec3>& filtered) {
    const CameraView view(frame.camera, frame.width, frame.height);
    for_each_piece(Effort{}, frame.fringes.size(), [&](std::size_t i) {
        const auto& [p, parts] = frame.fringes[i];
        const Ray ray = view.ray(static_cast<float>(p % static_cast<std::size_t>(frame.width)) + 0.5F,
                                 static_cast<float>(p / static_cast<std::size_t>(frame.width)) + 0.5F);
        Vec3 sum(0, 0, 0);
        for (const SurfaceSeen& seen : parts) {
            const Guide guide = guide_of(seen, ray);
            const Vec3 reflectance = reflectance_seen(seen.albedo);
            const auto falls = guide.slack > 0 ? light_on(guide, p, frame, guides, light) : std::nullopt;
            sum += falls ? *falls * reflectance : std::isfinite(seen.distance) ? traced[p] : Vec3(0, 0, 0);
        }
        filtered[p] = sum / static_cast<float>(parts.size());
    });
}

}  // namespace

std::vector<Vec3> preview_correction(const LayeredFrame& frame) {
    const std::size_t pixels = frame.bounced.size();
    std::vector<Vec3> correction(pixels, Vec3(0, 0, 0));
    // After one pass the noise is not known, and large.
    const double noise = std::isfinite(frame.noise) ? std::max(frame.noise, 1e-6) : 1.0;
    const double excess = std::log2(noise / forgiven_noise);
    if (excess <= 0) return correction;

    const std::vector<Guide> guides = guides_of(frame);
    std::vector<Vec3> reflectance(pixels);
    for (std::size_t p = 0; p < pixels; ++p) reflectance[p] = reflectance_seen(frame.albedo[p]);
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
        std::vector<Vec3>& filtered = smoothed;
        for (std::size_t p = 0; p < pixels; ++p)
            filtered[p] = guides[p].slack > 0 ? light[p] * reflectance[p] : (*part)[p];
        correct_fringes(frame, guides, light, *part, filtered);
        for (std::size_t p = 0; p < pixels; ++p) correction[p] += filtered[p] - (*part)[p];
    }
    return correction;
}

}  // namespace rushlight
