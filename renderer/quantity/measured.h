// A number that knows how sure it is.
#pragma once

#include <cmath>
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
