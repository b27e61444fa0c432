#include "paths/plan.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace rushlight {

namespace {

bool is_spot(const MeterPoint& m) {
    return m.kind == MeterKind::spot;
}

/// What nobody needs surer than this times the relative error: a hundredth of the brightest of its kind, or a lux (a
/// luminance that a lux makes on white). At the usual 1 % that is 1e-4 of the brightest, and .01 lx.
double least_scale(bool spot, double brightest) {
    constexpr double of_the_brightest = 0.01, lux = 1;
    return std::max(of_the_brightest * brightest, spot ? lux / std::numbers::pi : lux);
}

}  // namespace

std::vector<double> scales_of(const std::vector<double>& values, const std::vector<MeterPoint>& meters,
                              const Wanted& wanted, double relative_error) {
    double brightest[2] = {0, 0};
    for (std::size_t g = 0; g < wanted.size(); ++g) {
        double& most = brightest[is_spot(meters[wanted[g].front()])];
        most = std::max(most, values[g]);
    }
    std::vector<double> scales(wanted.size());
    for (std::size_t g = 0; g < wanted.size(); ++g) {
        double whole = values[g], times = 1;
        for (const std::size_t m : wanted[g]) {
            whole += static_cast<double>(meters[m].besides) / static_cast<double>(wanted[g].size());
            times = std::max(times, meters[m].times_the_error(relative_error));
        }
        const bool spot = is_spot(meters[wanted[g].front()]);
        scales[g] = std::max(times * whole, least_scale(spot, brightest[spot]));
    }
    return scales;
}

std::vector<double> passes_for_unit_error(const Tally& tally, std::size_t half, const std::vector<MeterPoint>& meters,
                                          const Wanted& wanted, double relative_error) {
    const std::size_t other = 1 - half;
    std::vector<double> values(wanted.size());
    for (std::size_t g = 0; g < wanted.size(); ++g)
        for (const std::size_t m : wanted[g])
            values[g] += tally.of_meter(other, m).mean() / static_cast<double>(wanted[g].size());
    const std::vector<double> scales = scales_of(values, meters, wanted, relative_error);

    std::vector<double> passes(meters.size());
    for (std::size_t g = 0; g < wanted.size(); ++g) {
        const auto size = static_cast<double>(wanted[g].size());
        // One that has met nothing yet, or less than one path may bring, may do so in the next pass.
        const auto seen = [&](std::size_t m) {
            const Moments& had = tally.of_meter(other, m);
            const auto next = static_cast<double>(meters[m].unmet);
            return had.count > 0 && had.sum < next ? std::max(had.variance(), next * next / had.count) : had.variance();
        };
        double sum = 0;
        for (const std::size_t m : wanted[g]) sum += seen(m);
        // One of many is like the others sooner than it is dark.
        constexpr double like_others = 0.25;
        const auto variance = [&](std::size_t m) { return std::max(seen(m), like_others * sum / size); };
        // What the meters of a group have in common, the light paths, does not average out.
        const double together = sum > 0 ? tally.of_group(other, g).variance() * size * size / sum : 1.0;
        double spread = 0;
        for (const std::size_t m : wanted[g]) spread += std::sqrt(variance(m) * tally.work(m));
        // The error of both halves together is to be `scale`: that of one of them is sqrt(2) as much. What is shown in
        // the end scatters about what was planned by some 13 % (32 batches): the plan aims that much lower.
        constexpr double aimed_at = 0.88;
        const double scale = aimed_at * scales[g];
        const double allowed = halves * batches_a_half * scale * scale * size * size;
        for (const std::size_t m : wanted[g])
            passes[m] = std::max(
                passes[m], std::sqrt(variance(m) / tally.work(m)) * spread * std::clamp(together, 1.0, size) / allowed);
    }
    return passes;
}

InHalf passes_in_half(double each) {
    InHalf half{1, 0};
    if (each <= 1) return half;
    while (static_cast<double>(half.passes + lot_after(half.passes)) <= each) half.passes += lot_after(half.passes);
    // Some batches have n passes, the others m: 1 / each = (1 - share) / n + share / m.
    const auto n = static_cast<double>(half.passes), m = static_cast<double>(half.passes + lot_after(half.passes));
    const double share = (1 / n - 1 / each) / (1 / n - 1 / m);
    half.with_one_lot_more = static_cast<std::size_t>(std::ceil(std::clamp(share, 0.0, 1.0) * batches_a_half));
    return half;
}

}  // namespace rushlight
