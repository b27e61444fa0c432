// Several machines that trace one answer together. All of them run the same command on the same files. Each does its
// share of the numbered pieces of work and tells the others what came of it: from there on all know the same, and
// decide the same. Whatever a machine has for itself (clocks, kept layers, Ctrl-C) counts as the first machine has it.
#pragma once

#include "quantity/packed.h"

#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace rushlight {

/// Thrown on all machines of a team when one of them cannot go on; what() is one sentence for people.
struct TeamError : std::runtime_error {
    enum class Cause {
        different_input,  // a machine was given something else: the person who started them can mend it
        broken_off        // a machine has ended, or does other work than it should
    };
    TeamError(const std::string& line, Cause why) : std::runtime_error(line), cause(why) {}
    Cause cause;
};

/// How a program ended: its exit status, and what is to be said of it.
struct Ending {
    int status = 0;
    std::string line;
};

class Team {
public:
    virtual ~Team() = default;
    /// Which of how many this machine is, from 0.
    virtual std::size_t number() const = 0;
    virtual std::size_t size() const = 0;
    /// "machine 2 of 3 (cellar)"
    virtual std::string name_of(std::size_t number) const = 0;
    /// Gives every machine's message, by number. All machines must call it equally often. Throws TeamError.
    virtual std::vector<std::string> exchange(std::string_view mine) = 0;
    /// The last call of every machine. Gives the ending of the whole team. Where one machine failed, the others are
    /// told, even in the middle of an exchange.
    virtual Ending end(const Ending& mine) = 0;
    /// True if somebody had asked one of the machines to stop by the last exchange; so all machines answer alike.
    virtual bool stopped() const = 0;

    bool first() const { return number() == 0; }
    template <Plain T>
    T first_says(const T& mine) {
        Packer own;
        own.put(mine);
        const std::vector<std::string> all = exchange(own.bytes);
        return Unpacker(all.front()).get<T>();
    }
    /// Throws TeamError, with a sentence that ends in `otherwise`, where another machine's bytes differ from the first
    /// one's.
    void expect_alike(std::string_view mine, const std::string& otherwise);
};

}  // namespace rushlight
