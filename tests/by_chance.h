// Random numbers that are the same on every machine, and means that know how sure they are.
#pragma once

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <random>

namespace rushlight::by_chance {

/// Even over 0 <= u < 1. (The library's own distributions may differ between makers.)
inline float even(std::mt19937_64& r) {
    return static_cast<float>(r() >> 40) * 0x1p-24F;
}

template <std::size_t n>
std::array<float, n> even_numbers(std::mt19937_64& r) {
    std::array<float, n> u{};
    for (float& x : u) x = even(r);
    return u;
}

struct Mean {
    double sum = 0, squares = 0;
    int count = 0;

    void add(double x) { sum += x, squares += x * x, ++count; }
    double value() const { return sum / count; }
    double error() const { return std::sqrt(std::max(0.0, squares / count - value() * value()) / count); }
};

/// Within four standard errors, and sure enough for that to prove something.
inline void expect_mean(const Mean& m, double want, double largest_relative_error) {
    EXPECT_LE(m.error(), largest_relative_error * want) << "too noisy to prove anything";
    EXPECT_NEAR(m.value(), want, 4 * m.error() + 2e-4 * want);
}

}  // namespace rushlight::by_chance
