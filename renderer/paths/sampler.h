// Random numbers as a function of (key, index, dimension): any path can be run again alone, and the order of
// threads never shows. The first dimensions are a shifted Kronecker sequence (even cover, unbiased because
// the shift is even over 0..1); the rest is a counter-based hash.
#pragma once

#include <array>
#include <cstdint>

namespace rushlight {

/// A good mixing of 64 bits (the finaliser of SplitMix64, Steele et al. 2014).
constexpr std::uint64_t mixed(std::uint64_t x) {
    x += 0x9E3779B97F4A7C15ULL;
    x = (x ^ (x >> 30)) * 0xBF58476D1CE4E5B9ULL;
    x = (x ^ (x >> 27)) * 0x94D049BB133111EBULL;
    return x ^ (x >> 31);
}
/// A key for something numbered inside something with a key.
constexpr std::uint64_t key_of(std::uint64_t key, std::uint64_t number) { return mixed(key ^ mixed(number)); }

class Sampler {
public:
    Sampler(std::uint64_t key, std::uint32_t index) : key_(key), index_(index) {}

    /// The next number, 0 <= u < 1.
    float next() {
        const std::uint32_t d = dimension_++;
        std::uint32_t bits = 0;
        if (d < even.size()) {
            bits = static_cast<std::uint32_t>(mixed(key_ + d) >> 32) + index_ * even[d];
        } else {
            bits = static_cast<std::uint32_t>(mixed(key_ + (static_cast<std::uint64_t>(index_) << 32) + d) >> 32);
        }
        return static_cast<float>(bits >> 8) * 0x1p-24F;
    }

private:
    // 2^32 / phi^k, phi = 1.0850702 the root of x^9 = x + 1: evenly spread in eight dimensions together.
    static constexpr std::array<std::uint32_t, 8> even{3958238937U, 3647910313U, 3361911661U, 3098335501U,
                                                       2855423889U, 2631556713U, 2425240877U, 2235100341U};
    std::uint64_t key_;
    std::uint32_t index_;
    std::uint32_t dimension_ = 0;
};

}  // namespace rushlight
