// A number that knows how sure it is.
#pragma once

#include <cmath>
#include <cstddef>
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

}  // namespace rushlight
