// Where a measurement stands between two batches, so that another run can go on with it.
#pragma once

#include "paths/measure.h"

namespace rushlight {

/// Batches in the first round; each round after adds half of what there is.
inline constexpr std::size_t first_round = 24;

struct Standing {
    MeterResults results;
    std::size_t round_end = first_round;  // batches after which it is asked how sure they are
    bool finished = false;
};

/// Kept under the fingerprint of the work.
void leave(const std::string& work, const Standing& standing, const Effort& effort);
/// What an earlier run left of it, if that fits `like`.
std::optional<Standing> left_of(const std::string& work, const Effort& effort, const MeterResults& like);

/// Batches until there is a chance to leave what there is: some seconds of them.
std::size_t most_at_once(const MeterResults& results, const Effort& effort);

}  // namespace rushlight
