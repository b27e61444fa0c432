#include "results/light/varied.h"

#include <algorithm>

namespace rushlight {

namespace {

std::vector<float> weighted_sum(const std::vector<float>& x, double a, const std::vector<float>& y, double b) {
    std::vector<float> sum(std::max(x.size(), y.size()), 0.0F);
    for (std::size_t i = 0; i < x.size(); ++i) sum[i] += static_cast<float>(a) * x[i];
    for (std::size_t i = 0; i < y.size(); ++i) sum[i] += static_cast<float>(b) * y[i];
    return sum;
}

}  // namespace

Varied weighted_sum(const Varied& x, double a, const Varied& y, double b) {
    return {a * x.value + b * y.value, weighted_sum(x.sky, a, y.sky, b), weighted_sum(x.sun, a, y.sun, b)};
}

Varied stops_of(const Varied& x) {
    Varied log = weighted_sum(x, 1 / (x.value * std::log(2.0)), {}, 0);
    log.value = std::log2(x.value);
    return log;
}

Varied stops_between(const Varied& over, const Varied& under) {
    return weighted_sum(stops_of(over), 1, stops_of(under), -1);
}

Measured difference(const Varied& after, const Varied& before) {
    const double variance = Varied::squares(weighted_sum(after.sky, 1, before.sky, -1)) + Varied::squares(after.sun) +
                            Varied::squares(before.sun);
    return {after.value - before.value, std::sqrt(variance)};
}

std::vector<float> parts_of(const std::vector<double>& x) {
    const auto n = static_cast<double>(x.size());
    double mean = 0;
    for (const double v : x) mean += v / n;
    std::vector<float> parts(x.size(), 0.0F);
    if (x.size() < 2) return parts;
    for (std::size_t i = 0; i < x.size(); ++i) parts[i] = static_cast<float>((x[i] - mean) / std::sqrt(n * (n - 1)));
    return parts;
}

}  // namespace rushlight
