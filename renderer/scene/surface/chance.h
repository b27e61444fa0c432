// Chances that stay what they are: the same for the same numbers, on every machine.
#pragma once

#include <cstdint>

namespace rushlight {

/// Even from 0 to 1, one for each pair of numbers: an integer hash.
inline float chance(std::uint32_t i, std::uint32_t which) {
    std::uint32_t h = i * 747796405U + which * 2891336453U + 277803737U;
    h = (h ^ (h >> ((h >> 28U) + 4U))) * 277803737U;
    h ^= h >> 22U;
    return static_cast<float>(h >> 8U) * 0x1p-24F;
}

}  // namespace rushlight
