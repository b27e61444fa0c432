// Where a measurement stands between two pieces of work, so that another run can go on with it.
#pragma once

#include "paths/plan.h"

namespace rushlight {

struct Checkpoint {
    Tally tally;
    Plan from, to;                // passes before and after the sweep that is going on
    std::size_t pieces_done = 0;  // of it
    double seconds = 0;
    bool finished = false;
};

/// Kept under the fingerprint of the work.
void save_checkpoint(const std::string& name, const Checkpoint& s, const Effort& effort);
/// Goes on with what an earlier run left, if that fits.
void load_checkpoint(const std::string& name, Checkpoint& s, const Effort& effort);

}  // namespace rushlight
