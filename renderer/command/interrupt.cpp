#include "command/interrupt.h"

#include "command/run.h"
#include "pictures/words/printable.h"

#include <algorithm>
#include <condition_variable>
#include <csignal>
#include <filesystem>
#include <fstream>
#include <mutex>
#include <string_view>
#include <thread>

#include <unistd.h>

namespace rushlight::command {

namespace {
std::atomic<bool> asked{false};
static_assert(std::atomic<bool>::is_always_lock_free);
std::atomic<bool> reached{false}, by_itself{false};

const auto begun = std::chrono::steady_clock::now();
std::mutex access;
std::condition_variable through;
bool is_through = false;
std::thread watching;
double time_given = 0;  // s; 0: as long as it takes
std::string time_typed;

double since_the_beginning() {
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - begun).count();
}

/// Seconds that the command stood in the queue for a processor: those of the thread that waited longest, or of all
/// threads by processor, since they wait for each other too. On a machine that is busy with other things a command is
/// late through no fault of its own, and is waited for. 0 where the system does not tell.
double seconds_in_the_queue() {
    double longest = 0, sum = 0;
    std::error_code ignored;
    for (const auto& thread : std::filesystem::directory_iterator("/proc/self/task", ignored)) {
        std::ifstream told(thread.path() / "schedstat");
        double worked = 0, waited = 0;  // ns
        if (!(told >> worked >> waited)) continue;
        longest = std::max(longest, waited * 1e-9);
        sum += waited * 1e-9;
    }
    return std::max(longest, sum / std::max(1U, std::thread::hardware_concurrency()));
}

/// How many times slower it is where a sanitizer looks over its shoulder.
constexpr double slower =
#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
    40;
#elif defined(__has_feature)
    __has_feature(address_sanitizer) || __has_feature(thread_sanitizer) ? 40 : 1;
#else
    1;
#endif

void put(std::string_view line) {
    static_cast<void>(::write(STDERR_FILENO, line.data(), line.size()) > 0);
}

/// Nothing is half written then: files are put in their places whole, and after something was reached.
[[noreturn]] void end_now(int status, const std::string& why) {
    put((::isatty(STDERR_FILENO) != 0 ? "\r\033[K" : "") + ("rushlight: " + on_one_line(why)) + "\n");
    ::_exit(status);
}

void watch() {
    constexpr double patience = 0.6, little = 0.9;  // s
    double asked_at = -1;
    bool told = false;
    std::unique_lock lock(access);
    while (!through.wait_for(lock, std::chrono::milliseconds(40), [] { return is_through; })) {
        const double now = since_the_beginning();
        if (asked.load() && asked_at < 0) asked_at = now;
        if (by_itself.load()) continue;
        const bool waited = asked_at >= 0 && now > asked_at + patience * slower;
        if (waited && !reached.load()) end_now(ended_early, "stopped before anything was reached; nothing is written");
        if (waited && !told) {
            put("rushlight: stopping, and handing over what was reached; Ctrl-C again ends at once\n");
            told = true;
        }
        if (reached.load()) continue;
        const double most = time_given + std::max(little, 0.08 * time_given);
        if (time_given > 0 && now > most * slower && now - seconds_in_the_queue() > most * slower)
            end_now(bad_input,
                    "--time " + time_typed +
                        " is too short for this: nothing was reached by then; give it longer, or ask for less");
    }
}

void on_signal(int number) {
    asked.store(true);
    std::signal(number, SIG_DFL);
}

/// The program that started the machines does this when one of them is lost. It has little patience with the others
/// then.
void on_end_of_team(int number) {
    constexpr std::string_view line =
        "rushlight: asked to end, by somebody or because a machine was lost. No file is half written; the same command "
        "carries on from what was saved.\n";
    put(line);
    on_signal(number);
}
}  // namespace

Watch::Watch() {
    std::signal(SIGINT, on_signal);
    std::signal(SIGTERM, team() != nullptr ? on_end_of_team : on_signal);
    if (team() != nullptr) std::signal(SIGUSR1, on_signal);
    std::signal(SIGXFSZ, SIG_IGN);  // a file that would be too large is an answer, no end
    // Machines of a team end together, or not at all.
    if (team() == nullptr) watching = std::thread(watch);
}

Watch::~Watch() {
    {
        const std::lock_guard lock(access);
        is_through = true;
    }
    through.notify_all();
    if (watching.joinable()) watching.join();
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
void ends_by_interrupt() {
    by_itself.store(true);
}
void interrupt_was_taken() {
    asked.store(false);
}

void expect_to_be_through_in(double seconds, const std::string& typed) {
    const std::lock_guard lock(access);
    time_given = seconds;
    time_typed = typed;
}
std::atomic<bool>& something_reached() {
    return reached;
}
std::chrono::steady_clock::time_point beginning() {
    return begun;
}

}  // namespace rushlight::command
