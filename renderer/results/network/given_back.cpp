#include "results/network/given_back.h"

#include "paths/work/workers.h"

#include <algorithm>
#include <array>
#include <utility>

namespace rushlight {

namespace {

/// Means over a square window of 2 * `reach` + 1, twice over: a tent. Less at the picture's edge.
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
    /// Sum of the squares of a tent's weights.
    float squares() const {
        const float side = static_cast<float>(2 * reach_ + 1), one_way = 2.0F / (3 * side);
        return one_way * one_way;
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

/// What is given back changes slowly, so it is reckoned on squares of pixels.
constexpr int square = 4;

/// Sums over squares of one kind of thing, each pixel by its share of it, and how much brighter the kind gets there.
class Kind {
public:
    template <class Share>
    Kind(int width, int height, const std::vector<Vec3>& traced, const std::vector<Vec3>& calm, const Share& share)
        : width_((width + square - 1) / square), height_((height + square - 1) / square) {
        const std::size_t squares = static_cast<std::size_t>(width_) * static_cast<std::size_t>(height_);
        share_.assign(squares, 0);
        deviation_.assign(squares, 0);
        relative_.assign(squares, 0);
        for (int k = 0; k < 3; ++k) {
            traced_[k].assign(squares, 0);
            calm_[k].assign(squares, 0);
            gain_[k].assign(squares, 1);
        }
        for (int y = 0; y < height; ++y)
            for (int x = 0; x < width; ++x) {
                const std::size_t p =
                    static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x);
                const float s = share(p);
                if (!(s > 0)) continue;
                const std::size_t at = static_cast<std::size_t>(y / square) * static_cast<std::size_t>(width_) +
                                       static_cast<std::size_t>(x / square);
                const float off = traced[p].y - calm[p].y;
                share_[at] += s;
                deviation_[at] += s * off * off;
                for (int k = 0; k < 3; ++k) traced_[k][at] += s * traced[p][k], calm_[k][at] += s * calm[p][k];
            }
    }

    void give_back(int reach, bool colour, float doubted, const Effort& effort) {
        const Blur blur(width_, height_, reach, effort);
        const auto blurred = [&](std::vector<float> of) {
            blur(of);
            return of;
        };
        const std::vector<float> share = blurred(share_), deviation = blurred(deviation_),
                                 luminance = blurred(calm_[1]);
        for (std::size_t i = 0; i < share.size(); ++i)
            if (luminance[i] > 0)
                relative_[i] = std::max(relative_[i], deviation[i] * share[i] / (luminance[i] * luminance[i]));
        std::vector<float> gain(share.size(), 1.0F);
        for (const int k : {1, 0, 2}) {
            if (k == 1 || colour) {
                const std::vector<float> before = blurred(traced_[k]), after = blurred(calm_[k]);
                for (std::size_t i = 0; i < gain.size(); ++i) {
                    gain[i] = 1;
                    constexpr float least_share = 1e-3F;  // of a pixel, as a mean over the squares
                    if (!(after[i] > 0) || share[i] < least_share) continue;
                    const float off = before[i] / after[i] - 1;
                    const float noise = doubted * relative_[i] * blur.squares() / share[i];
                    if (off * off > noise) gain[i] += off * (1 - noise / (off * off));
                }
            }
            for (std::size_t i = 0; i < gain.size(); ++i) gain_[k][i] *= gain[i], calm_[k][i] *= gain[i];
        }
    }

    /// How much brighter it gets at a pixel, in between the middles of the squares.
    Vec3 gain_at(int x, int y) const {
        const auto between = [](int pixel, int count) {
            const float at =
                std::clamp((static_cast<float>(pixel) + 0.5F) / square - 0.5F, 0.0F, static_cast<float>(count - 1));
            const int first = std::min(static_cast<int>(at), std::max(0, count - 2));
            return std::pair{first, at - static_cast<float>(first)};
        };
        const auto [i, u] = between(x, width_);
        const auto [j, v] = between(y, height_);
        const int right = std::min(i + 1, width_ - 1), down = std::min(j + 1, height_ - 1);
        const auto at = [&](int k, int a, int b) {
            return gain_[k]
                        [static_cast<std::size_t>(b) * static_cast<std::size_t>(width_) + static_cast<std::size_t>(a)];
        };
        Vec3 gain;
        for (int k = 0; k < 3; ++k)
            gain[k] = (1 - v) * ((1 - u) * at(k, i, j) + u * at(k, right, j)) +
                      v * ((1 - u) * at(k, i, down) + u * at(k, right, down));
        return gain;
    }

private:
    int width_, height_;
    // `relative_`: the largest variance of a pixel, over the square of the mean, that was met in any window so far.
    std::vector<float> share_, deviation_, relative_;
    std::array<std::vector<float>, 3> traced_, calm_, gain_;
};

}  // namespace

void give_back(int width, int height, const std::vector<Vec3>& traced, const std::vector<float>& hair,
               std::vector<Vec3>& calm, const Effort& effort) {
    const bool any_hair = std::any_of(hair.begin(), hair.end(), [](float share) { return share > 0; });
    const auto hair_at = [&](std::size_t p) { return any_hair ? hair[p] : 0.0F; };
    std::vector<Kind> kinds;
    kinds.emplace_back(width, height, traced, calm, [&](std::size_t p) { return 1 - hair_at(p); });
    if (any_hair) kinds.emplace_back(width, height, traced, calm, hair_at);
    for (const int reach : {16, 8, 4, 2}) {
        // One walk that brought all is 9/4 of the variance that it makes, under the top of a tent: never given back.
        // Over smaller windows two standard errors count, as walks are not normal.
        const bool widest = reach == 16;
        for (Kind& kind : kinds) kind.give_back(reach, widest, widest ? 2.5F : 4.0F, effort);
    }
    for_each_piece(effort, static_cast<std::size_t>(height), [&](std::size_t row) {
        for (int x = 0; x < width; ++x) {
            const std::size_t p = row * static_cast<std::size_t>(width) + static_cast<std::size_t>(x);
            const float share = hair_at(p);
            Vec3 gain = kinds[0].gain_at(x, static_cast<int>(row)) * (1 - share);
            if (share > 0) gain += kinds[1].gain_at(x, static_cast<int>(row)) * share;
            calm[p] *= gain;
        }
    });
}

}  // namespace rushlight
