// The program: what the words of the command line ask for, done by this machine alone or by a team of them.
#pragma once

#include "results/light/unfinished_work.h"

namespace rushlight::command {

/// Gives the exit status. Of a team, only the first machine is heard and writes files; `team` may be null.
int run(int argc, char** argv, Team* team);

/// Machines that work on it together; null: this one alone.
Team* team();
/// Where long work leaves what it has, and what earlier runs left.
UnfinishedWork& unfinished_work(double pause = UnfinishedWork::usual_pause);

}  // namespace rushlight::command
