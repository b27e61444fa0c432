#include "command/interrupt.h"

#include <csignal>

namespace rushlight::command {

namespace {
std::atomic<bool> asked{false};
static_assert(std::atomic<bool>::is_always_lock_free);

void on_signal(int number) {
    asked.store(true);
    std::signal(number, SIG_DFL);
}
}  // namespace

void listen_for_interrupt() {
    std::signal(SIGINT, on_signal);
    std::signal(SIGTERM, on_signal);
}

const std::atomic<bool>& interrupt_flag() {
    return asked;
}
bool interrupted() {
    return asked.load();
}
void interrupt_was_taken() {
    asked.store(false);
}

}  // namespace rushlight::command
