// Whose request is answered next. Each viewer has a few in hand and a few that wait, whoever else asks.
#pragma once

#include "desk/door/lobby.h"

#include <condition_variable>
#include <deque>
#include <map>
#include <mutex>
#include <optional>
#include <string>

namespace rushlight::desk {

class Turns {
public:
    /// `at_once`: requests of one viewer that are worked on at the same time.
    explicit Turns(std::size_t at_once) : at_once_(at_once) {}

    /// Takes the call, or leaves it where this viewer, or all together, have too many waiting already.
    bool add(Call& call);
    /// The next call whose viewer has a hand free; waits for it. Nothing after end().
    std::optional<Call> next();
    /// A call of this viewer was answered.
    void done(const std::string& viewer);
    void end();

    static constexpr std::size_t most_waiting = 64, most_of_one = 16;

private:
    std::mutex mutex_;
    std::condition_variable news_;
    std::deque<Call> waiting_;
    std::map<std::string, std::size_t> in_hand_;
    std::size_t at_once_;
    bool ending_ = false;
};

}  // namespace rushlight::desk
