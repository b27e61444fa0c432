#include "results/frame/denoised.h"

#include "paths/work/workers.h"
#include "quantity/colour.h"
#include "results/frame/surface_guides.h"
#include "results/network/given_back.h"
#include "results/network/network.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace rushlight {

namespace {

using Rows = std::array<std::array<float, 3>, 3>;
Vec3 times(const Rows& m, const Vec3& v) {
    Vec3 result;
    for (int k = 0; k < 3; ++k) result[k] = m[k][0] * v.x + m[k][1] * v.y + m[k][2] * v.z;
    return result;
}

/// The network was taught on red, green and blue. These are wide ones (ITU-R BT.2020), so that hardly any light has one
/// of them negative, and as much of each in the camera's white.
class NetworkColour {
public:
    explicit NetworkColour(const Camera& camera) {
        const Tristimulus t = tinted_white(Kelvin{camera.white_balance}, camera.tint);
        white_ = Vec3(static_cast<float>(t.x / t.y), 1.0F, static_cast<float>(t.z / t.y));
    }
    Vec3 of_light(const Vec3& xyz) const { return of_albedo(xyz / white_); }
    /// X, Y and Z, each over that of white.
    static Vec3 of_albedo(const Vec3& xyz) {
        static constexpr Rows to{{{1.7166512F, -0.3556708F, -0.2533663F},
                                  {-0.6666844F, 1.6164812F, 0.0157685F},
                                  {0.0176399F, -0.0427706F, 0.9421031F}}};
        const Vec3 rgb = times(to, xyz * d65);
        return {std::max(rgb.x, 0.0F), std::max(rgb.y, 0.0F), std::max(rgb.z, 0.0F)};
    }
    Vec3 light(const Vec3& rgb) const {
        static constexpr Rows from{{{0.6369580F, 0.1446169F, 0.1688810F},
                                    {0.2627002F, 0.6779981F, 0.0593017F},
                                    {0.0F, 0.0280727F, 1.0609851F}}};
        return times(from, rgb) / d65 * white_;
    }

private:
    inline static const Vec3 d65{0.9504559F, 1.0F, 1.0890578F};
    Vec3 white_;
};

}  // namespace

std::vector<Vec3> denoised(const LayeredFrame& frame, const std::vector<Vec3>& traced, const Effort& effort) {
    // Noise that no eye sees, as a share of the pixel.
    constexpr double clean = 0.004;
    const std::size_t pixels = traced.size();
    if (!has_network() || frame.noise < clean || frame.clean_albedo.size() != pixels) return {};
    const NetworkColour colour(frame.camera);
    NoisyPicture picture{frame.width, frame.height, traced, frame.clean_albedo, frame.clean_normal};
    for (Vec3& v : picture.light) v = colour.of_light(v);
    for (Vec3& v : picture.albedo) v = NetworkColour::of_albedo(v);
    std::vector<Vec3> calm = without_noise(picture, effort);
    if (calm.size() != pixels) return {};
    for (Vec3& v : calm) v = colour.light(v);
    give_back(frame.width, frame.height, traced, frame.clean_hair, calm, effort);
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

std::vector<float> denoised(int width, int height, const std::vector<float>& lux, const std::vector<Vec3>& facing,
                            const Effort& effort) {
    if (!has_network()) return {};
    NoisyPicture picture{width, height, std::vector<Vec3>(lux.size(), Vec3(0, 0, 0)),
                         std::vector<Vec3>(lux.size(), Vec3(0, 0, 0)), facing};
    for (std::size_t p = 0; p < lux.size(); ++p)
        if (std::isfinite(lux[p])) picture.light[p] = Vec3(lux[p]), picture.albedo[p] = Vec3(1);
    std::vector<Vec3> calm = without_noise(picture, effort);
    if (calm.size() != lux.size()) return {};
    for (std::size_t p = 0; p < lux.size(); ++p) calm[p] *= picture.albedo[p];
    give_back(width, height, picture.light, {}, calm, effort);
    std::vector<float> result(lux);
    for (std::size_t p = 0; p < lux.size(); ++p)
        if (std::isfinite(lux[p])) result[p] = calm[p].y;
    return result;
}

}  // namespace rushlight
