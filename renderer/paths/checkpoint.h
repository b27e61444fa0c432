// Where a measurement stands between two batches, so that another run can go on with it.
#pragma once

#include "paths/measure.h"

namespace rushlight {

/// Batches in the first round; each round after adds half of what there is.
inline constexpr std::size_t first_round = 24;

struct Checkpoint {
    MeterResults results;
    std::size_t round_end = first_round;  // batches after which their error is judged
    bool finished = false;
};

/// Kept under the fingerprint of the work.
void save_checkpoint(const std::string& work, const Checkpoint& checkpoint, const Effort& effort);
/// The checkpoint that an earlier run saved of this work, if it fits `like`.
std::optional<Checkpoint> load_checkpoint(const std::string& work, const Effort& effort, const MeterResults& like);

/// The most batches before the next checkpoint can be saved: some seconds' worth.
std::size_t most_at_once(const MeterResults& results, const Effort& effort);

}  // namespace rushlight
