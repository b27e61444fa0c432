#include "results/frame/denoised.h"

#include "paths/work/workers.h"
#include "quantity/colour.h"
#include "results/frame/surface_guides.h"
#include "results/network/network.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

/// Means over a square window of 2 * `reach` + 1 pixels, twice over, less at the picture's edge.
class Blur {
public:
    Blur(int width, int height, int reach, const Effort& effort)
        : width_(width), height_(height), reach_(reach), effort_(effort) {}
    void operator()(std::vector<float>& of) const {
        for (int round = 0; round < 2; ++round) {
            along(of, height_, width_, static_cast<std::size_t>(width_), 1);
            along(of, width_, height_, 1, static_cast<std::size_t>(width_));
        }
    }

private:
    void along(std::vector<float>& of, int lines, int length, std::size_t line_step, std::size_t step) const {
        constexpr std::size_t lines_a_piece = 16;
        const auto all = static_cast<std::size_t>(lines);
        for_each_piece(effort_, (all + lines_a_piece - 1) / lines_a_piece, [&](std::size_t piece) {
            std::vector<double> sums(static_cast<std::size_t>(length) + 1);
            for (std::size_t line = piece * lines_a_piece; line < std::min(all, (piece + 1) * lines_a_piece); ++line) {
                float* first = &of[line * line_step];
                for (std::size_t i = 0; i < static_cast<std::size_t>(length); ++i)
                    sums[i + 1] = sums[i] + static_cast<double>(first[i * step]);
                for (int i = 0; i < length; ++i) {
                    const int from = std::max(0, i - reach_), to = std::min(length, i + reach_ + 1);
                    first[static_cast<std::size_t>(i) * step] = static_cast<float>(
                        (sums[static_cast<std::size_t>(to)] - sums[static_cast<std::size_t>(from)]) / (to - from));
                }
            }
        });
    }

    int width_, height_, reach_;
    const Effort& effort_;
};

/// Gives back what the network took over wide windows, channel by channel, as far as the noise of the traced light does
/// not explain the difference (James and Stein's estimate of the one beside the variance of the other).
void give_back(int width, int height, const std::vector<float>& error, const std::vector<Vec3>& traced,
               std::vector<Vec3>& calm, const Effort& effort) {
    constexpr int reach = 8;
    // Sparks are not normal: a difference counts from two standard errors on.
    constexpr float doubted = 4;
    const Blur blur(width, height, reach, effort);
    const std::size_t pixels = traced.size();
    const auto blurred = [&](const auto& value) {
        std::vector<float> of(pixels);
        for (std::size_t p = 0; p < pixels; ++p) of[p] = value(p);
        blur(of);
        return of;
    };
    // Windows blurred twice weigh a pixel by a tent: the squares of its weights sum to (2 / (3 n))^2 of n pixels a side.
    const float side = 2 * reach + 1, squares = (2.0F / (3 * side)) * (2.0F / (3 * side));
    const std::vector<float> variance = blurred([&](std::size_t p) {
        const float e = p < error.size() && std::isfinite(error[p]) ? std::min(error[p], traced[p].y) : traced[p].y;
        return e * e;
    });
    const std::vector<float> luminance = blurred([&](std::size_t p) { return traced[p].y; });
    for (int k = 0; k < 3; ++k) {
        const std::vector<float> before = blurred([&](std::size_t p) { return traced[p][k]; });
        const std::vector<float> after = blurred([&](std::size_t p) { return calm[p][k]; });
        for (std::size_t p = 0; p < pixels; ++p) {
            if (!(after[p] > 0) || !(luminance[p] > 0)) continue;
            const float off = before[p] / after[p] - 1;
            const float noise = variance[p] * squares / (luminance[p] * luminance[p]);
            if (off * off > doubted * noise) calm[p][k] *= 1 + off * (1 - doubted * noise / (off * off));
        }
    }
}

/// Sparks: what single walks brought that far outshine all light around, of which the network would make blots. Taken
/// out of `light` and returned, so that none is lost. A small thing that truly is bright is so in every pass, which its
/// error tells.
std::vector<Vec3> sparks_in(int width, int height, const std::vector<float>& error, const std::vector<Vec3>& albedo,
                            double noise, std::vector<Vec3>& light, const Effort& effort) {
    constexpr int reach = 4;
    constexpr float one_walk = 0.4F, dark = 0.05F;  // error as a share of the light; the darkest albedo that counts
    const Blur blur(width, height, reach, effort);
    const std::size_t pixels = light.size();
    // Chance alone goes so many errors over the mean; after one pass the noise is not known, and large.
    const float far_over = 1 + 6 * static_cast<float>(std::isfinite(noise) ? std::min(noise, 1.5) : 1.5);
    std::vector<Vec3> sparks(pixels, Vec3(0, 0, 0));
    // Twice: what is far over the usual light is part of it at first.
    for (int round = 0; round < 2; ++round) {
        std::vector<float> usual(pixels);
        for (std::size_t p = 0; p < pixels; ++p) usual[p] = light[p].y / (albedo[p].y + dark);
        blur(usual);
        for (std::size_t p = 0; p < pixels; ++p) {
            const float most = far_over * usual[p] * (albedo[p].y + dark);
            const bool known = p < error.size() && std::isfinite(error[p]) && error[p] < one_walk * light[p].y;
            if (known || !(light[p].y > most)) continue;
            const Vec3 over = light[p] * (1 - most / light[p].y);
            sparks[p] += over;
            light[p] -= over;
        }
    }
    return sparks;
}

/// Over wide windows the picture becomes brighter by what its sparks held.
void spread(const std::vector<Vec3>& sparks, int width, int height, std::vector<Vec3>& calm, const Effort& effort) {
    constexpr int reach = 20;
    const Blur blur(width, height, reach, effort);
    std::vector<float> over(sparks.size()), base(sparks.size());
    for (int k = 0; k < 3; ++k) {
        for (std::size_t p = 0; p < sparks.size(); ++p) over[p] = sparks[p][k], base[p] = calm[p][k];
        blur(over);
        blur(base);
        for (std::size_t p = 0; p < sparks.size(); ++p)
            if (base[p] > 0) calm[p][k] *= 1 + over[p] / base[p];
    }
}

}  // namespace

std::vector<Vec3> denoised(const LayeredFrame& frame, const std::vector<Vec3>& traced, const Effort& effort) {
    // Noise that no eye sees, as a share of the pixel.
    constexpr double clean = 0.004;
    const std::size_t pixels = traced.size();
    if (!has_network() || frame.noise < clean || frame.clean_albedo.size() != pixels) return {};
    // X, Y and Z, each over that of white, are three channels that no light makes negative.
    const Tristimulus t = tinted_white(Kelvin{frame.camera.white_balance}, frame.camera.tint);
    const Vec3 white(static_cast<float>(t.x / t.y), 1.0F, static_cast<float>(t.z / t.y));
    std::vector<Vec3> usual = traced;
    const std::vector<Vec3> sparks =
        sparks_in(frame.width, frame.height, frame.error, frame.clean_albedo, frame.noise, usual, effort);
    NoisyPicture picture{frame.width, frame.height, usual, frame.clean_albedo, frame.clean_normal};
    for (Vec3& v : picture.light) v /= white;
    std::vector<Vec3> calm = without_noise(picture, effort);
    if (calm.size() != pixels) return {};
    for (Vec3& v : calm) v *= white;
    give_back(frame.width, frame.height, frame.error, usual, calm, effort);
    spread(sparks, frame.width, frame.height, calm, effort);
    return calm;
}

std::vector<std::vector<Vec3>> shared_out(const LayeredFrame& frame, const std::vector<Vec3>& sum,
                                          const Effort& effort) {
    const std::size_t pixels = sum.size(), sources = frame.layers.size();
    // Pixel by pixel the light of all sources, which are smoothed together.
    std::vector<Vec3> light(pixels * sources), smoothed(pixels * sources), mean(sources, Vec3(0, 0, 0));
    for_each_piece(effort, sources, [&](std::size_t s) {
        for (std::size_t p = 0; p < pixels; ++p) {
            const Tristimulus t = tristimulus(frame.layers[s][p]);
            light[p * sources + s] = Vec3(static_cast<float>(t.x), static_cast<float>(t.y), static_cast<float>(t.z));
            mean[s] += light[p * sources + s] / static_cast<float>(pixels);
        }
    });
    const std::vector<Guide> guides = guides_of(frame);
    for (const int step : {1, 2, 4}) {
        for_each_piece(effort, static_cast<std::size_t>(frame.height), [&](std::size_t row) {
            const int y = static_cast<int>(row);
            for (int x = 0; x < frame.width; ++x) {
                const std::size_t p = frame.at(x, y);
                Vec3* to = &smoothed[p * sources];
                std::fill_n(to, sources, Vec3(0, 0, 0));
                for (int j = -1; j <= 1; ++j)
                    for (int i = -1; i <= 1; ++i) {
                        const int qx = x + i * step, qy = y + j * step;
                        if (qx < 0 || qy < 0 || qx >= frame.width || qy >= frame.height) continue;
                        const std::size_t q = frame.at(qx, qy);
                        const bool seen = guides[p].slack > 0;
                        if (seen != (guides[q].slack > 0)) continue;
                        // The pixel itself counts in any case: a corner may be like nothing around it.
                        const float like = p == q ? 1.0F : seen ? likeness(guides[p], guides[q]) : 1.0F;
                        const float w = like * (i == 0 ? 2.0F : 1.0F) * (j == 0 ? 2.0F : 1.0F);
                        if (w < 0.01F) continue;
                        for (std::size_t s = 0; s < sources; ++s) to[s] += light[q * sources + s] * w;
                    }
            }
        });
        std::swap(light, smoothed);
    }
    std::vector<std::vector<Vec3>> layers(sources, std::vector<Vec3>(pixels));
    for_each_piece(effort, static_cast<std::size_t>(frame.height), [&](std::size_t row) {
        for (std::size_t p = frame.at(0, static_cast<int>(row)); p < frame.at(0, static_cast<int>(row) + 1); ++p)
            for (int k = 0; k < 3; ++k) {
                float own = 0, whole = 0;
                for (std::size_t s = 0; s < sources; ++s) own += light[p * sources + s][k], whole += mean[s][k];
                for (std::size_t s = 0; s < sources; ++s) {
                    const float share = own > 0     ? light[p * sources + s][k] / own
                                        : whole > 0 ? mean[s][k] / whole
                                                    : 0.0F;
                    layers[s][p][k] = share * sum[p][k];
                }
            }
    });
    return layers;
}

std::vector<float> denoised(int width, int height, const std::vector<float>& lux, const std::vector<float>& error,
                            const std::vector<Vec3>& facing, const Effort& effort) {
    if (!has_network()) return {};
    NoisyPicture picture{width, height, std::vector<Vec3>(lux.size(), Vec3(0, 0, 0)),
                         std::vector<Vec3>(lux.size(), Vec3(0, 0, 0)), facing};
    for (std::size_t p = 0; p < lux.size(); ++p)
        if (std::isfinite(lux[p])) picture.light[p] = Vec3(lux[p]), picture.albedo[p] = Vec3(1);
    constexpr double unknown = INFINITY;
    const std::vector<Vec3> sparks = sparks_in(width, height, error, picture.albedo, unknown, picture.light, effort);
    std::vector<Vec3> calm = without_noise(picture, effort);
    if (calm.size() != lux.size()) return {};
    give_back(width, height, error, picture.light, calm, effort);
    spread(sparks, width, height, calm, effort);
    std::vector<float> result(lux);
    for (std::size_t p = 0; p < lux.size(); ++p)
        if (std::isfinite(lux[p])) result[p] = calm[p].y;
    return result;
}

}  // namespace rushlight
