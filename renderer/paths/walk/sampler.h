// Random numbers as a function of (stream, index, dimension): any path can be run again alone, and the order of threads
// never shows. The first dimensions come in pairs of a scrambled Sobol sequence (Owen 1995, by the hash of Laine and
// Karras 2011; each pair in an order of its own, Burley 2020): every run of them covers its square evenly, and each
// number alone is even over 0..1, so means stay right. The rest is a counter-based hash.
#pragma once

#include <cstdint>

namespace rushlight {

/// A good mixing of 64 bits (the finaliser of SplitMix64, Steele et al. 2014).
constexpr std::uint64_t mixed(std::uint64_t x) {
    x += 0x9E3779B97F4A7C15ULL;
    x = (x ^ (x >> 30)) * 0xBF58476D1CE4E5B9ULL;
    x = (x ^ (x >> 27)) * 0x94D049BB133111EBULL;
    return x ^ (x >> 31);
}
/// The stream of something numbered inside something that has a stream: (seed, batch), (batch, meter).
constexpr std::uint64_t stream_of(std::uint64_t stream, std::uint64_t number) {
    return mixed(stream ^ mixed(number));
}

namespace detail {
constexpr std::uint32_t reversed(std::uint32_t x) {
    x = ((x >> 1) & 0x55555555U) | ((x & 0x55555555U) << 1);
    x = ((x >> 2) & 0x33333333U) | ((x & 0x33333333U) << 2);
    x = ((x >> 4) & 0x0F0F0F0FU) | ((x & 0x0F0F0F0FU) << 4);
    x = ((x >> 8) & 0x00FF00FFU) | ((x & 0x00FF00FFU) << 8);
    return (x >> 16) | (x << 16);
}
/// Scrambles the bits of a reversed number: each by a hash of those below it.
constexpr std::uint32_t scrambled(std::uint32_t x, std::uint32_t seed) {
    x += seed;
    x ^= x * 0x6C50B47CU;
    x ^= x * 0xB82F1E52U;
    x ^= x * 0xC7AFE638U;
    x ^= x * 0x8D22F6E6U;
    return x;
}
/// The second dimension of Sobol's sequence, of a reversed index: Pascal's triangle modulo 2, in five folds.
constexpr std::uint32_t sobol_second(std::uint32_t x) {
    x ^= (x & 0x0000FFFFU) << 16;
    x ^= (x & 0x00FF00FFU) << 8;
    x ^= (x & 0x0F0F0F0FU) << 4;
    x ^= (x & 0x33333333U) << 2;
    x ^= (x & 0x55555555U) << 1;
    return x;
}
}  // namespace detail

class Sampler {
public:
    Sampler(std::uint64_t stream, std::uint32_t index) : stream_(stream), index_(index) {}

    /// The next number, 0 <= u < 1.
    float next() {
        const std::uint32_t d = dimension_++;
        std::uint32_t bits = 0;
        if (d < even_dimensions) {
            const std::uint64_t seeds = mixed(stream_ + d);
            if (d % 2 == 0)  // a place in the pair's own order; kept reversed, as both dimensions need it
                place_ = detail::scrambled(detail::reversed(index_), static_cast<std::uint32_t>(seeds >> 32));
            const std::uint32_t point = d % 2 == 0 ? place_ : detail::sobol_second(place_);
            bits = detail::reversed(detail::scrambled(detail::reversed(point), static_cast<std::uint32_t>(seeds)));
        } else {
            bits = static_cast<std::uint32_t>(mixed(stream_ + (static_cast<std::uint64_t>(index_) << 32) + d) >> 32);
        }
        return static_cast<float>(bits >> 8) * 0x1p-24F;
    }

private:
    static constexpr std::uint32_t even_dimensions = 12;
    std::uint64_t stream_;
    std::uint32_t index_;
    std::uint32_t place_ = 0;
    std::uint32_t dimension_ = 0;
};

}  // namespace rushlight
