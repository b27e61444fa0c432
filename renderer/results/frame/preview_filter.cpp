#include "results/frame/preview_filter.h"

#include "paths/work/workers.h"
#include "results/frame/surface_guides.h"
#include "scene/rays/camera_view.h"

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
// A pixel that is less alike than this is no example for another.
constexpr float least_likeness = 0.02F;
// Fewer, as in a brow or between strands, and the noise of one pixel would stand for all around it: then edges count.
constexpr int enough_examples = 4;
// Noise that the eye forgives in a preview, as a share of the pixel.
constexpr double forgiven_noise = 0.02;

/// The mean light of pixels, weighed by how near and how alike they are.
struct Mean {
    Vec3 sum{0, 0, 0};
    float weights = 0;
    int examples = 0;
    void add(const Vec3& light, int right, int down, float like) {
        const float w =
            kernel[static_cast<std::size_t>(std::abs(right))] * kernel[static_cast<std::size_t>(std::abs(down))] * like;
        sum += light * w;
        weights += w;
        examples += like > least_likeness;
    }
};

/// One level of the filter: every pixel becomes a mean of its likenesses, `step` pixels apart; with `hair_alone` no
/// other is touched.
void smooth(const LayeredFrame& frame, const std::vector<Guide>& guides, int step, const std::vector<Vec3>& light,
            std::vector<Vec3>& smoothed, const Effort& effort, bool hair_alone = false) {
    for_each_piece(effort, static_cast<std::size_t>(frame.height), [&](std::size_t row) {
        const int y = static_cast<int>(row);
        for (int x = 0; x < frame.width; ++x) {
            const std::size_t p = frame.at(x, y);
            smoothed[p] = light[p];
            if (hair_alone ? !guides[p].hair : guides[p].hair && step > widest_step_in_hair) continue;
            if (guides[p].slack <= 0 || (guides[p].blurred > 0 && 2 * step > guides[p].blurred)) continue;
            const auto mean_of = [&](bool edges) {
                Mean mean;
                for (int j = -2; j <= 2; ++j)
                    for (int i = -2; i <= 2; ++i) {
                        const int qx = x + i * step;
                        const int qy = y + j * step;
                        if (qx < 0 || qy < 0 || qx >= frame.width || qy >= frame.height) continue;
                        const std::size_t q = frame.at(qx, qy);
                        if (guides[q].slack <= 0 || (guides[q].edge && !edges)) continue;
                        mean.add(light[q], i, j, guides[p].blurred > 0 ? 1.0F : likeness(guides[p], guides[q]));
                    }
                return mean;
            };
            Mean mean = mean_of(guides[p].blurred > 0);
            if (guides[p].hair && mean.examples < enough_examples) mean = mean_of(true);
            if (mean.weights > 0) smoothed[p] = mean.sum / mean.weights;
        }
    });
}

void spread_wide(const LayeredFrame& frame, const std::vector<Guide>& guides, std::vector<Vec3>& light,
                 const Effort& effort) {
    std::vector<Vec3> smoothed(light.size());
    for (const int step : {1, 2, 4, 8, 16}) {
        smooth(frame, guides, step, light, smoothed, effort, true);
        std::swap(light, smoothed);
    }
}

/// Rare bright walks through hair would show as sparks: what lies far over the hair around is taken out of `light` and
/// given back to all hair, so that none is lost.
std::vector<Vec3> sparks_of_hair(const LayeredFrame& frame, const std::vector<Guide>& guides, std::vector<Vec3>& light,
                                 const Effort& effort) {
    constexpr float far_over = 2;
    std::vector<Vec3> usual, sparks(light.size(), Vec3(0, 0, 0));
    // Twice: what is far over the usual light is part of it at first.
    for (int round = 0; round < 2; ++round) {
        usual = light;
        spread_wide(frame, guides, usual, effort);
        for (std::size_t p = 0; p < light.size(); ++p) {
            // A pixel on an edge is no example for others: the edge would be lost.
            if (!guides[p].hair || guides[p].edge || light[p].y <= far_over * usual[p].y) continue;
            sparks[p] += light[p] - usual[p] * far_over;
            light[p] = usual[p] * far_over;
        }
    }
    usual = light;
    spread_wide(frame, guides, usual, effort);
    const auto all = [](const std::vector<Vec3>& l) {
        double sum = 0;
        for (const Vec3& v : l) sum += static_cast<double>(v.y);
        return sum;
    };
    const double before = all(sparks);
    spread_wide(frame, guides, sparks, effort);
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

/// The light on a part of a fringe, taken from the pixels around that see nothing else, and where those are too few,
/// from the fringes around as well. Nothing where neither is like it.
std::optional<Vec3> light_on(const Guide& part, std::size_t pixel, const LayeredFrame& frame,
                             const std::vector<Guide>& guides, const std::vector<Vec3>& light) {
    const int x = static_cast<int>(pixel) % frame.width, y = static_cast<int>(pixel) / frame.width;
    for (const bool fringes : {false, true}) {
        Mean mean;
        for (int qy = std::max(0, y - 2); qy <= std::min(frame.height - 1, y + 2); ++qy)
            for (int qx = std::max(0, x - 2); qx <= std::min(frame.width - 1, x + 2); ++qx) {
                const std::size_t q = frame.at(qx, qy);
                if (guides[q].slack <= 0 || (guides[q].edge && !fringes)) continue;
                mean.add(light[q], qx - x, qy - y, likeness(part, guides[q]));
            }
        if (!fringes && mean.examples < enough_examples) continue;
        if (mean.weights > least_likeness * kernel[0] * kernel[0]) return mean.sum / mean.weights;
    }
    return std::nullopt;
}

}  // namespace

PreviewFilter::PreviewFilter(const LayeredFrame& frame, const Effort& effort) : frame_(frame), effort_(effort) {
    // After one pass the noise is not known, and large.
    const double noise = std::isfinite(frame.noise) ? std::max(frame.noise, 1e-6) : 1.0;
    const double excess = std::log2(noise / forgiven_noise);
    if (excess <= 0) return;
    // Each level halves the noise, more or less.
    levels_ = static_cast<int>(std::ceil(excess)) + 1;
    guides_ = guides_of(frame);
    any_hair_ = std::any_of(guides_.begin(), guides_.end(), [](const Guide& g) { return g.hair; });
    for (const Spectrum& albedo : frame.albedo) reflectance_.push_back(reflectance_seen(albedo));
    const CameraView view(frame.camera, frame.width, frame.height);
    for (const auto& [p, parts] : frame.fringes) {
        const Ray ray = view.ray(static_cast<float>(p % static_cast<std::size_t>(frame.width)) + 0.5F,
                                 static_cast<float>(p / static_cast<std::size_t>(frame.width)) + 0.5F);
        for (const SurfaceSeen& seen : parts)
            parts_.push_back({guide_of(seen, ray), reflectance_seen(seen.albedo), std::isfinite(seen.distance)});
    }
}

std::vector<Vec3> PreviewFilter::correction(const std::vector<Vec3>& bounced, const std::vector<Vec3>& soft) const {
    std::vector<Vec3> correction(bounced.size(), Vec3(0, 0, 0));
    if (levels_ == 0) return correction;
    add_correction(bounced, std::min(levels_, most_levels), correction);
    // Skylight keeps the shape of its shadows: fewer levels.
    if (!soft.empty()) add_correction(soft, std::min(levels_, most_soft_levels), correction);
    return correction;
}

void PreviewFilter::add_correction(const std::vector<Vec3>& traced, int levels, std::vector<Vec3>& correction) const {
    const std::size_t pixels = traced.size();
    std::vector<Vec3> light(pixels, Vec3(0, 0, 0));
    std::vector<Vec3> smoothed(pixels);
    for (std::size_t p = 0; p < pixels; ++p)
        if (guides_[p].slack > 0) light[p] = traced[p] / reflectance_[p];
    std::vector<Vec3> sparks;
    if (any_hair_) sparks = sparks_of_hair(frame_, guides_, light, effort_);
    for (int level = 0; level < levels; ++level) {
        smooth(frame_, guides_, 1 << level, light, smoothed, effort_);
        std::swap(light, smoothed);
    }
    for (std::size_t p = 0; p < sparks.size(); ++p) light[p] += sparks[p];
    std::vector<Vec3>& filtered = smoothed;
    for (std::size_t p = 0; p < pixels; ++p)
        filtered[p] = guides_[p].slack > 0 ? light[p] * reflectance_[p] : traced[p];
    correct_fringes(light, traced, filtered);
    for (std::size_t p = 0; p < pixels; ++p) correction[p] += filtered[p] - traced[p];
}

void PreviewFilter::correct_fringes(const std::vector<Vec3>& light, const std::vector<Vec3>& traced,
                                    std::vector<Vec3>& filtered) const {
    constexpr std::size_t count = std::tuple_size_v<decltype(Fringe::parts)>;
    for_each_piece(effort_, frame_.fringes.size(), [&](std::size_t i) {
        const std::size_t p = frame_.fringes[i].pixel;
        Vec3 sum(0, 0, 0);
        for (std::size_t k = count * i; k < count * (i + 1); ++k) {
            const auto& [guide, reflectance, hit] = parts_[k];
            const auto falls = guide.slack > 0 ? light_on(guide, p, frame_, guides_, light) : std::nullopt;
            sum += falls ? *falls * reflectance : hit ? traced[p] : Vec3(0, 0, 0);
        }
        filtered[p] = sum / static_cast<float>(count);
    });
}

std::vector<Vec3> preview_correction(const LayeredFrame& frame) {
    return PreviewFilter(frame).correction(frame.bounced, frame.soft);
}

}  // namespace rushlight
