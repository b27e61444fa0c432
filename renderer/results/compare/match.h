// Do two sides of a conversation cut together? Held against what an eye forgives between two shots.
#pragma once

#include "results/sheet/sheet.h"

#include <string>
#include <vector>

namespace rushlight {

struct MatchRow {
    std::string name, unit;
    Measured here, there, apart;  // apart = there - here
    double allowed = 0;           // either way
    bool known = true;            // whether both sides have it

    bool matches() const { return std::abs(apart.value) <= allowed; }
    /// True if chance alone could turn the answer: the value lies within two errors of the limit.
    bool unsure() const { return std::abs(std::abs(apart.value) - allowed) < 2 * apart.error; }
};

struct Match {
    std::string here, there;  // "4 close A, of A"
    std::vector<MatchRow> rows;
    std::vector<std::string> remarks;  // filters or lenses that differ
};

/// True if they show two different people with the same lens: the two sides of a conversation.
bool are_two_sides(const Sheet& a, const Sheet& b);

/// Compares the person each camera is about: exposure of the key cheek over what its camera asks for and cheek to cheek
/// (a third of a stop), colour of the key cheek from each camera's balance (20 mired), background against key cheek
/// (half a stop), eye lights (as many): common practice, no source. Sheets without a camera or a person have no rows.
Match match_of(const Sheet& here, const Sheet& there);

}  // namespace rushlight
