#include "desk/light/smoothed_layers.h"

#include "paths/work/workers.h"
#include "quantity/colour.h"
#include "quantity/matrix.h"
#include "results/frame/denoised.h"
#include "results/frame/preview_filter.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace rushlight::desk {

namespace {

/// Three overlapping parts of a light's spectrum, short to long, and what of each makes a given X, Y, Z.
class BandsOfColour {
public:
    explicit BandsOfColour(const Spectrum& light) {
        for (int b = 0; b < bands; ++b) {
            // Straight slopes that sum to one everywhere.
            const float at = 2.0F * static_cast<float>(b) / static_cast<float>(bands - 1);
            for (int i = 0; i < 3; ++i)
                parts_[static_cast<std::size_t>(i)][b] =
                    light[b] * std::max(0.0F, 1.0F - std::abs(at - static_cast<float>(i)));
        }
        Matrix m{};
        for (std::size_t i = 0; i < 3; ++i) {
            const Tristimulus t = tristimulus(parts_[i]);
            m[0][i] = t.x, m[1][i] = t.y, m[2][i] = t.z;
        }
        inverse_ = inverse(m);
        for (const Triple& row : inverse_)
            for (const double value : row) sound_ = sound_ && std::isfinite(value);
    }
    Spectrum of(const Vec3& xyz) const {
        Spectrum sum;
        if (!sound_) return sum;
        const Triple amount = inverse_ * Triple{xyz.x, xyz.y, xyz.z};
        for (std::size_t i = 0; i < 3; ++i) sum += parts_[i] * static_cast<float>(amount[i]);
        return sum;
    }

private:
    std::array<Spectrum, 3> parts_;
    Matrix inverse_{};
    bool sound_ = true;
};

Spectrum mean_of_layer(const std::vector<Spectrum>& layer) {
    std::array<double, bands> sum{};
    for (const Spectrum& s : layer)
        for (std::size_t b = 0; b < bands; ++b) sum[b] += static_cast<double>(s.band[b]);
    Spectrum mean;
    for (std::size_t b = 0; b < bands; ++b)
        mean.band[b] = static_cast<float>(sum[b] / static_cast<double>(layer.size()));
    return scaled_to(mean, 1);
}

/// By the denoising network, if the program has it: each layer is what its source has of the denoised sum, in bands of
/// that source's colour.
bool denoise(const LayeredFrame& frame, std::vector<std::vector<Spectrum>>& layers, const Effort& effort) {
    std::vector<Vec3> sum(frame.error.size(), Vec3(0, 0, 0));
    for (const auto& layer : frame.layers)
        for (std::size_t p = 0; p < sum.size(); ++p) {
            const Tristimulus t = tristimulus(layer[p]);
            sum[p] += Vec3(static_cast<float>(t.x), static_cast<float>(t.y), static_cast<float>(t.z));
        }
    const std::vector<Vec3> calm = denoised(frame, sum, effort);
    if (calm.empty()) return false;
    const std::vector<std::vector<Vec3>> parts = shared_out(frame, calm, effort);
    for_each_piece(effort, layers.size(), [&](std::size_t s) {
        const BandsOfColour colour(mean_of_layer(layers[s]));
        for (std::size_t p = 0; p < calm.size(); ++p) {
            layers[s][p] = colour.of(parts[s][p]);
            for (float& band : layers[s][p].band) band = std::max(band, 0.0F);
        }
    });
    return true;
}

}  // namespace

std::vector<std::vector<Spectrum>> smoothed_layers(const LayeredFrame& frame, const Effort& effort) {
    std::vector<std::vector<Spectrum>> layers = frame.layers;
    if (frame.bounced_of.size() != layers.size()) return layers;
    // After one pass something moves under a hand: then the quick filter.
    if (frame.paths_per_pixel > 1 && denoise(frame, layers, effort)) return layers;
    const PreviewFilter filter(frame, effort);
    for (std::size_t s = 0; s < layers.size() && !effort.dropped(); ++s) {
        const std::vector<Vec3> correction =
            filter.correction(frame.bounced_of[s], frame.sources[s] == "sky" ? frame.soft : std::vector<Vec3>{});
        const BandsOfColour colour(mean_of_layer(layers[s]));
        for_each_piece(effort, static_cast<std::size_t>(frame.height), [&](std::size_t row) {
            for (int x = 0; x < frame.width; ++x) {
                const std::size_t p = frame.at(x, static_cast<int>(row));
                if (correction[p].length2() == 0) continue;
                Spectrum& light = layers[s][p];
                light += colour.of(correction[p]);
                for (float& band : light.band) band = std::max(band, 0.0F);
            }
        });
    }
    return layers;
}

}  // namespace rushlight::desk
