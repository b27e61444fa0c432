// Whoever waits for a long file may lose patience. Readers ask in their long loops; they do not know whom.
#pragma once

#include <functional>
#include <stdexcept>
#include <utility>

namespace rushlight {

/// Thrown out of a reader that was told to stop.
class Stopped : public std::runtime_error {
public:
    Stopped() : std::runtime_error("stopped while files were read: nothing was traced and nothing written") {}
};

class Patience {
public:
    Patience() = default;
    explicit Patience(std::function<bool()> is_lost) : is_lost_(std::move(is_lost)) {}

    bool is_lost() const { return is_lost_ && is_lost_(); }
    void look() const {
        if (is_lost()) throw Stopped();
    }
    /// The same in a loop of many quick rounds: only every few thousand of them.
    void look(std::size_t round) const {
        if (round % 4096 == 0) look();
    }

private:
    std::function<bool()> is_lost_;
};

}  // namespace rushlight
