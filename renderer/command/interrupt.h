// Ctrl-C: the first keeps what was reached, the second ends at once. On several machines whoever starts them takes
// Ctrl-C for itself; SIGUSR1 does the same there.
#pragma once

#include "setup/text/patience.h"

#include <atomic>

namespace rushlight::command {

void listen_for_interrupt();
/// For an Effort to look at while it traces.
const std::atomic<bool>& interrupt_flag();
bool interrupted();
/// For readers of long files. Several machines read to the end, so that none waits for another.
Patience until_interrupted();
/// For a command that is meant to end this way.
void interrupt_was_taken();

}  // namespace rushlight::command
