// One of several, drawn by its share.
#pragma once

#include <algorithm>
#include <cstddef>
#include <optional>

namespace rushlight {

/// The largest float under 1.
inline constexpr float one_below = 0x1.fffffeP-1F;

struct Pick {
    std::size_t which;
    float weight;  // of the one that was drawn; its chance is this over the sum of all
    float rest;    // what the choice left of its random number, even over 0 <= rest < 1: good for another draw
};

/// One of `count` things, each as often as `weight(i)` says. `u` is a random number times the sum of all weights. None
/// where the choice falls on a weight of nothing: there is nothing to choose, or rounding left the sum too large.
template <class Weight>
std::optional<Pick> pick(std::size_t count, float u, const Weight& weight) {
    if (count == 0) return std::nullopt;
    std::size_t i = 0;
    float left = u, own = weight(i);
    while (i + 1 < count && left >= own) {
        left -= own;
        own = weight(++i);
    }
    if (!(own > 0)) return std::nullopt;
    return Pick{i, own, std::clamp(left / own, 0.0F, one_below)};
}

}  // namespace rushlight
