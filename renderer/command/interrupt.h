// What ends a command before it is through: Ctrl-C, and the end of the time that it was given. The first Ctrl-C keeps
// what was reached, the second ends at once. As long as nothing is reached, there is nothing to keep: then a thread
// of its own ends the program within a second, whatever it is at. On several machines whoever starts them takes Ctrl-C
// for itself; SIGUSR1 does the same there.
#pragma once

#include "setup/text/patience.h"

#include <atomic>
#include <chrono>
#include <string>

namespace rushlight::command {

/// Listens as long as it lives.
class Watch {
public:
    Watch();
    Watch(const Watch&) = delete;
    Watch& operator=(const Watch&) = delete;
    ~Watch();
};
/// For an Effort to look at while it traces.
const std::atomic<bool>& interrupt_flag();
bool interrupted();
/// For readers of long files. Several machines read to the end, so that none waits for another.
Patience until_interrupted();
/// For a command that is meant to end this way, and does so by itself.
void ends_by_interrupt();
void interrupt_was_taken();

/// This command is to be through so many seconds after the program began; `typed` is how that was said. The thread
/// gives it a tenth more, or most of a second, before it ends it; and as long again as the machine was busy otherwise.
void expect_to_be_through_in(double seconds, const std::string& typed);
/// For an Effort to set: from then on there is something to hand over, and the thread waits for it.
std::atomic<bool>& something_reached();
/// When the program began.
std::chrono::steady_clock::time_point beginning();

}  // namespace rushlight::command
