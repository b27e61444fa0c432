// Targets as the trade says them: "T4", "4:1", "1 over", "3 over grey", "2 under B near cheek", "match 3 wide within
// 1/3".
#pragma once

#include "quantity/space.h"
#include "setup/text/where.h"

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace rushlight {

struct Want {
    enum class Kind {
        t_stop,  // the meter shows this stop; `value`: T
        lux,     // `value`: lx
        kelvin,  // `value`: K
        ratio,   // cheek over cheek; `value`: stops
        over,    // stops over `other`, or over grey, or an outline over what is behind it
        match    // as much as in another set-up
    } kind = Kind::t_stop;
    enum class Side { exact, at_least, at_most } side = Side::exact;
    double value = 0;
    double within = 0;          // stops, or mired for kelvin
    std::string other;          // over: a reading, "grey", or empty; match: a set-up
    std::string other_reading;  // match: of that set-up; empty: the same
};

/// Common practice, no source: a third of a stop, and 20 mired, are what is noticed.
inline constexpr double usual_within_stops = 1.0 / 3, usual_within_mired = 20;

/// Nothing where the words make no target.
std::optional<Want> want_from(std::string_view text);

struct Target {
    std::string reading;  // a reading's, outline's or opening's name, or "A cheeks"
    std::string text;     // the want as it was typed
    Want want;
    std::vector<std::string> setups;  // empty: all
    Where where;
};

/// A lamp, board, flag, cloth or net that may stand anywhere between where it is and `to`.
struct BalanceMove {
    std::string thing;
    Vec3 to;
    Where where;
};

/// The things that `balance` may change.
struct BalanceRules {
    std::vector<BalanceMove> moves;
    std::optional<std::vector<std::string>> lamps;  // left out: all that are on
    bool gels = false, nd = false;
    std::optional<std::pair<double, double>> stop;  // range of T; left out: a T target's, or the camera's
};

}  // namespace rushlight
