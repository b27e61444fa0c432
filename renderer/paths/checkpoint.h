// Where a measurement stands between two pieces of work, so that another run can go on with it.
#pragma once

#include "paths/plan.h"

namespace rushlight {

/// How the walks of a pass are shared. Which of these is best depends on the light: bounced lamps are found from the
/// lamps, what is seen through windows from the meters.
enum class Way : std::uint8_t { usual, mostly_from_lights, from_meters };

struct Checkpoint {
    Tally tally;
    std::vector<Way> ways;        // of each meter
    bool tried = false;           // whether others were
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
