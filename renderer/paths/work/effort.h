// How long to go on: until every number is sure enough, or until the time is up, or until somebody says stop.
#pragma once

#include "paths/work/checkpoint_store.h"
#include "paths/work/team.h"

#include <algorithm>
#include <atomic>
#include <chrono>
#include <cstdint>
#include <functional>
#include <limits>
#include <optional>

namespace rushlight {

struct Progress {
    double done = 0;  // share of the work, 0..1
    double seconds_left = 0;
    double error = 0;  // reached so far, relative, of the worst number
};

struct Effort {
    double relative_error = 0.01;  // wanted of every reading; 0: none is asked for
    double seconds = 0;            // time to take; 0: as long as the error needs
    double most_seconds = 3600;    // never longer than this, whatever the error
    double most_batches = 0;       // given up as soon as it is clear that more will be needed; 0: never
    double enough_batches = 0;     // however sure they are by then; 0: as many as the error needs
    std::uint64_t seed = 1;
    int threads = 0;                          // 0: all
    const std::atomic<bool>* stop = nullptr;  // set from outside (Ctrl-C) to end early
    const std::atomic<bool>* drop =
        nullptr;  // set when nobody wants the answer any more: work ends at once, and its result is worthless
    std::function<void(const Progress&)> tell;  // may be empty

    // Of one machine alone, where the whole command has a time and not this work by itself.
    std::optional<std::chrono::steady_clock::time_point> until;  // when whatever was reached by then must do
    double pace = 1;                       // how much of `seconds` is left for this: reading and building took the rest
    std::atomic<bool>* reached = nullptr;  // set as soon as there is something that could be handed over

    Team* team = nullptr;                    // machines that work on it together; none: this one alone
    CheckpointStore* checkpoints = nullptr;  // where it leaves what it has, and goes on from; may be none

    bool dropped() const { return drop != nullptr && drop->load(std::memory_order_relaxed); }
    /// All machines answer this alike; asked_to_stop() tells what this machine heard.
    bool stopped() const { return team != nullptr ? team->stopped() : asked_to_stop(); }
    /// Stopped, or past its time.
    bool over() const { return stopped() || left() <= 0; }
    /// Seconds until then.
    double left() const {
        if (!until) return std::numeric_limits<double>::infinity();
        return std::chrono::duration<double>(*until - std::chrono::steady_clock::now()).count();
    }
    /// The longest that this may take from now on.
    double limit() const { return std::min(seconds > 0 ? seconds * pace : most_seconds, std::max(0.0, left())); }
    /// Not even the least is worth waiting for: something is reached, and it is over for longer than a moment.
    bool hurries() const {
        constexpr double moment = 0.4;  // s
        return reached != nullptr && reached->load() && (asked_to_stop() || left() < -moment);
    }
    void has_reached_something() const {
        if (reached != nullptr) reached->store(true);
    }
    bool asked_to_stop() const { return stop != nullptr && stop->load(std::memory_order_relaxed); }
    /// The first machine's value in place of this one's: its clock, its rounding.
    template <Plain T>
    T agreed(const T& mine) const {
        return team != nullptr ? team->first_says(mine) : mine;
    }
};

/// The sentence about a machine of the team that would measure something else.
inline constexpr const char* other_work =
    "reads another set-up file than the first, or other models, kit or luminaires beside it, or has a processor that "
    "rounds otherwise: all machines need the same";

/// Wall time since it was made.
class Clock {
public:
    double seconds() const { return std::chrono::duration<double>(std::chrono::steady_clock::now() - start_).count(); }

private:
    std::chrono::steady_clock::time_point start_ = std::chrono::steady_clock::now();
};

}  // namespace rushlight
