// A number that knows how sure it is.
#pragma once

#include <cmath>
#include <cstddef>
#include <numbers>
#include <span>

namespace rushlight {

/// A mean and its standard error, in the same unit.
struct Measured {
    double value = 0;
    double error = 0;  // one standard error

    double relative_error() const { return value != 0 ? error / std::abs(value) : 0.0; }
};

/// Mean of independent estimates of one number and the standard error of that mean:
/// s / sqrt(n), s with n - 1. One estimate alone has an infinite error.
inline Measured mean_of(std::span<const double> estimates) {
    const auto n = static_cast<double>(estimates.size());
    if (estimates.empty()) return {0.0, INFINITY};
    double sum = 0;
    for (double e : estimates) sum += e;
    const double mean = sum / n;
    if (estimates.size() < 2) return {mean, INFINITY};
    double squares = 0;
    for (double e : estimates) squares += (e - mean) * (e - mean);
    return {mean, std::sqrt(squares / (n - 1) / n)};
}

/// By how much the error of a mean of so few estimates has to be widened so that twice as much covers what it promises
/// of normal errors, 95.45 %: Student's quantile over 2. (Tables for up to three degrees of freedom, from memory; then
/// the Cornish-Fisher expansion, Abramowitz and Stegun 26.7.5.)
inline double students_widening(std::size_t estimates) {
    if (estimates < 2) return INFINITY;
    const auto f = static_cast<double>(estimates - 1);
    if (estimates == 2) return 13.968 / 2;
    if (estimates == 3) return 4.527 / 2;
    if (estimates == 4) return 3.307 / 2;
    constexpr double z = 2, z3 = 8, z5 = 32, z7 = 128;
    return (z + (z3 + z) / (4 * f) + (5 * z5 + 16 * z3 + 3 * z) / (96 * f * f) +
            (3 * z7 + 19 * z5 + 17 * z3 - 15 * z) / (384 * f * f * f)) /
           2;
}

/// log2 of it and the error of that: d log2(x) = dx / (x ln 2).
inline Measured stops_of(const Measured& x) {
    return {std::log2(x.value), x.relative_error() / std::numbers::ln2};
}

/// Stops from one to the other, which were measured by themselves.
inline Measured stops_between(const Measured& from, const Measured& to) {
    return {std::log2(to.value / from.value),
            std::hypot(from.relative_error(), to.relative_error()) / std::numbers::ln2};
}

}  // namespace rushlight
