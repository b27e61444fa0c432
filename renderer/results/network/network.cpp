#include "results/network/network.h"

#include "paths/work/workers.h"
#include "results/network/bands_of_rows.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace rushlight {

namespace {

constexpr int halvings = 4, whole = 1 << halvings;

// Light comes as a perceptually even code, fitted to Aydin et al., "Extending Quality Metrics to Full Luminance Range
// Images" (2008); the numbers are those that the network was taught with. Straight up to y0, a power up to y1, then a
// logarithm; over its largest light, that of a half float, so that the code ends at one.
constexpr float a = 1.41283765e+03F, b = 1.64593172e+00F, c = 4.31384981e-01F, d = -2.94139609e-03F,
                e = 1.92653254e-01F, f = 6.26026094e-03F, g = 9.98620152e-01F, y0 = 1.57945760e-06F,
                y1 = 3.22087631e-02F, x0 = 2.23151711e-03F, x1 = 3.70974749e-01F;
constexpr float largest_light = 65504;

float code_of(float light) {
    if (light <= y0) return a * light;
    return light <= y1 ? b * std::pow(light, c) + d : e * std::log(light + f) + g;
}
float light_of(float code) {
    if (code <= x0) return code / a;
    return code <= x1 ? std::pow((code - d) / b, 1 / c) : std::exp((code - g) / e) - f;
}

/// Factor that puts the geometric mean of the picture's light, over squares of about 16 pixels, to middle grey.
float exposure_of(const NoisyPicture& picture) {
    constexpr int square = 16;
    constexpr double grey = 0.18, least = 1e-8;
    const int across = (picture.width + square - 1) / square, down = (picture.height + square - 1) / square;
    double logs = 0;
    int lit = 0;
    for (int j = 0; j < down; ++j)
        for (int i = 0; i < across; ++i) {
            double sum = 0;
            const int left = i * picture.width / across, right = (i + 1) * picture.width / across;
            const int top = j * picture.height / down, bottom = (j + 1) * picture.height / down;
            for (int y = top; y < bottom; ++y)
                for (int x = left; x < right; ++x) {
                    const Vec3& light =
                        picture.light[static_cast<std::size_t>(y) * static_cast<std::size_t>(picture.width) +
                                      static_cast<std::size_t>(x)];
                    sum += static_cast<double>(light.x + light.y + light.z) / 3;
                }
            const double mean = sum / std::max(1, (right - left) * (bottom - top));
            if (mean > least) logs += std::log2(mean), ++lit;
        }
    return lit > 0 ? static_cast<float>(grey / std::exp2(logs / lit)) : 1.0F;
}

/// The largest of four pixels.
Planes halved(const Planes& from, const Effort& effort) {
    Planes to(from.width() / 2, from.height() / 2, from.channels());
    for_each_piece(effort, static_cast<std::size_t>(to.height()), [&](std::size_t row) {
        const int y = static_cast<int>(row);
        const float *upper = from.row(2 * y), *lower = from.row(2 * y + 1);
        float* out = to.row(y);
        const auto n = static_cast<std::size_t>(from.channels());
        for (std::size_t x = 0; x < static_cast<std::size_t>(to.width()); ++x)
            for (std::size_t k = 0; k < n; ++k) {
                const std::size_t left = 2 * x * n + k, right = left + n;
                out[x * n + k] = std::max(std::max(upper[left], upper[right]), std::max(lower[left], lower[right]));
            }
    });
    return to;
}

/// Every pixel of `coarse` four times, the channels of `beside` after its own: put together band by band.
RowsToConvolve doubled(const Planes& coarse, const Planes& beside) {
    return [&](int first, int rows, float* room) -> const float* {
        const auto m = static_cast<std::size_t>(coarse.channels()), n = static_cast<std::size_t>(beside.channels());
        const auto width = static_cast<std::size_t>(beside.width());
        float* out = room;
        for (int y = first - 1; y <= first + rows; ++y, out += width * (m + n)) {
            if (y < 0 || y >= beside.height()) {
                std::fill_n(out, width * (m + n), 0.0F);
                continue;
            }
            const float *in_coarse = coarse.row(y / 2), *in_beside = beside.row(y);
            for (std::size_t x = 0; x < width; ++x) {
                std::copy_n(in_coarse + x / 2 * m, m, out + x * (m + n));
                std::copy_n(in_beside + x * n, n, out + x * (m + n) + m);
            }
        }
        return room;
    };
}

class Network {
public:
    explicit Network(ConvolutionLibrary& library) : library_(library), layers_(network_weights()) {}

    /// Of nine channels three.
    Planes run(Planes input, const Effort& effort) const {
        std::array<Planes, halvings> beside;  // what is kept of each size for the way back
        std::size_t layer = 0;
        const auto over = [&](const Planes& from) {
            return convolved(
                library_, layers_[layer++], from.width(), from.height(),
                [&](int first, int, float*) { return from.row(first - 1); }, effort);
        };
        beside[0] = std::move(input);
        Planes now = over(beside[0]);
        for (std::size_t i = 1; i < halvings; ++i) {
            beside[i] = halved(over(i > 1 ? beside[i - 1] : now), effort);
        }
        now = halved(over(beside[halvings - 1]), effort);
        now = over(now);
        now = over(now);
        for (std::size_t i = halvings; i-- > 0;) {
            now = convolved(library_, layers_[layer++], beside[i].width(), beside[i].height(), doubled(now, beside[i]),
                            effort);
            beside[i] = Planes();
            now = over(now);
        }
        return over(now);
    }

private:
    ConvolutionLibrary& library_;
    std::vector<ConvolutionWeights> layers_;
};

/// Rows `first` to `end` of the picture as the network takes them, in whole sixteens of pixels.
Planes input_of(const NoisyPicture& picture, int first, int end, float exposure, const Effort& effort) {
    const auto up = [](int n) { return (n + whole - 1) / whole * whole; };
    Planes input(up(picture.width), up(end - first), stored_channels(9));
    const float top = code_of(largest_light);
    for_each_piece(effort, static_cast<std::size_t>(input.height()), [&](std::size_t row) {
        float* to = input.row(static_cast<int>(row));
        std::fill_n(to, input.row_size(), 0.0F);
        if (first + static_cast<int>(row) >= end) return;
        const std::size_t start = (static_cast<std::size_t>(first) + row) * static_cast<std::size_t>(picture.width);
        for (std::size_t x = 0; x < static_cast<std::size_t>(picture.width); ++x, to += input.channels())
            for (int k = 0; k < 3; ++k) {
                const float light = picture.light[start + x][k] * exposure;
                to[k] = light > 0 ? code_of(std::min(light, largest_light)) / top : 0.0F;
                to[3 + k] = std::clamp(picture.albedo[start + x][k], 0.0F, 1.0F);
                to[6 + k] = std::clamp(picture.normal[start + x][k], -1.0F, 1.0F) / 2 + 0.5F;
            }
    });
    return input;
}

}  // namespace

bool has_network() {
    return convolution_library() != nullptr;
}

std::string network_remark() {
    if (has_network()) return {};
    return "The denoising network is missing, so the noise is smoothed by our own filter, which is coarser (" +
           no_convolution_library() + ").";
}

std::vector<Vec3> without_noise(const NoisyPicture& picture, const Effort& effort) {
    if (!has_network()) return {};
    static const Network network(*convolution_library());
    // Larger pictures go in strips, for memory's sake, each with as much over and under it as a pixel of the network
    // sees, in whole steps of its smallest size.
    constexpr int most_pixels = 1'000'000, seen = 96;
    const int strips = 1 + static_cast<int>(static_cast<long>(picture.width) * picture.height / most_pixels);
    const int rows = ((picture.height + strips - 1) / strips + whole - 1) / whole * whole;
    const float exposure = exposure_of(picture), top = code_of(largest_light);
    std::vector<Vec3> result(picture.light.size());
    for (int first = 0; first < picture.height; first += rows) {
        const int end = std::min(first + rows, picture.height);
        const int from = std::max(0, first - seen), to = std::min(picture.height, end + seen);
        const Planes out = network.run(input_of(picture, from, to, exposure, effort), effort);
        if (effort.dropped()) return {};
        for_each_piece(effort, static_cast<std::size_t>(end - first), [&](std::size_t row) {
            const int y = first + static_cast<int>(row);
            const float* values = out.row(y - from);
            for (std::size_t x = 0; x < static_cast<std::size_t>(picture.width); ++x, values += out.channels())
                for (int k = 0; k < 3; ++k)
                    result[static_cast<std::size_t>(y) * static_cast<std::size_t>(picture.width) + x][k] =
                        light_of(std::clamp(values[k], 0.0F, 1.0F) * top) / exposure;
        });
    }
    return result;
}

}  // namespace rushlight
