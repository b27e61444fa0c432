#include "command/interrupt.h"

#include "command/run.h"

#include <csignal>
#include <string_view>

#include <unistd.h>

namespace rushlight::command {

namespace {
std::atomic<bool> asked{false};
static_assert(std::atomic<bool>::is_always_lock_free);

void on_signal(int number) {
    asked.store(true);
    std::signal(number, SIG_DFL);
}

/// Whoever started the machines does this when one of them is lost, and has little patience with the others then.
void on_end_of_team(int number) {
    constexpr std::string_view line =
        "rushlight: told to end: by somebody, or because a machine was lost. No file is half written; the same command "
        "goes on from what was kept.\n";
    static_cast<void>(::write(STDERR_FILENO, line.data(), line.size()) > 0);
    on_signal(number);
}
}  // namespace

void listen_for_interrupt() {
    std::signal(SIGINT, on_signal);
    std::signal(SIGTERM, team() != nullptr ? on_end_of_team : on_signal);
    if (team() != nullptr) std::signal(SIGUSR1, on_signal);
    std::signal(SIGXFSZ, SIG_IGN);  // a file that would be too large is an answer, no end
}

const std::atomic<bool>& interrupt_flag() {
    return asked;
}
bool interrupted() {
    return team() != nullptr ? team()->stopped() : asked.load();
}
Patience until_interrupted() {
    return team() != nullptr ? Patience() : Patience([] { return asked.load(); });
}
void interrupt_was_taken() {
    asked.store(false);
}

}  // namespace rushlight::command
