// How many passes every meter needs: from what passes have shown so far.
#pragma once

#include "paths/tally.h"

namespace rushlight {

/// The error that may be left on the mean of each group, for a relative error of 1: see least_scale() in plan.cpp.
std::vector<double> scales_of(const std::vector<double>& values, const std::vector<MeterPoint>& meters,
                              const Wanted& wanted, double relative_error);

/// For a half's batches, each: passes at every meter for a relative error of 1, by Neyman's rule (1934): in proportion
/// to the scatter of a pass over the root of its work. They go with one over the square of the error.
std::vector<double> passes_for_unit_error(const Tally& tally, std::size_t half, const std::vector<MeterPoint>& meters,
                                          const Wanted& wanted, double relative_error);

/// Passes of each batch [batch][meter].
using Plan = std::vector<std::size_t>;
/// Passes of the batches of a half, in whole lots.
struct InHalf {
    std::size_t passes = 0, with_one_lot_more = 0;  // and of how many batches
    std::size_t of(std::size_t batch) const {
        return passes + (batch / halves < with_one_lot_more ? lot_after(passes) : 0);
    }
};
/// So that the batches of a half have `each` passes on average, as their harmonic mean goes: the error's.
InHalf passes_in_half(double each);

}  // namespace rushlight
