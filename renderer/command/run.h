// The program: what the words of the command line ask for, done by this machine alone or by a team of them.
#pragma once

#include "results/light/kept_checkpoints.h"

namespace rushlight::command {

/// How the program ends, but for 0: all is done.
inline constexpr int failed = 1;         // the machine could not: disk, memory
inline constexpr int bad_input = 2;      // the person can mend it
inline constexpr int ended_early = 130;  // the person ended it

/// Gives the exit status. Of a team, only the first machine is heard and writes files; `team` may be null.
int run(int argc, char** argv, Team* team);

/// Machines that work on it together; null: this one alone.
Team* team();
/// The checkpoints of long work, and those of earlier runs.
KeptCheckpoints& kept_checkpoints(double pause = KeptCheckpoints::usual_pause);

}  // namespace rushlight::command
