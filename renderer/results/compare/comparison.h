// Options of one set-up side by side: a sheet and a frame of each, and what differs from the first.
#pragma once

#include "results/frame/layered_frame.h"
#include "results/sheet/sheet.h"

#include <cmath>

#include <string>
#include <vector>

namespace rushlight {

struct Compared {
    Sheet sheet;  // its changes count from the first option
    LayeredFrame frame;
};

struct Comparison {
    std::string title, setup;
    std::vector<Compared> options;  // the first is what the others are held against
    std::vector<std::string> remarks;
};

/// Whether a difference is more than chance: three errors, which chance alone passes once in some four hundred.
inline bool is_real(const Measured& stops) {
    return std::isfinite(stops.value) && std::isfinite(stops.error) && std::abs(stops.value) > 3 * stops.error;
}

/// The numbers that a set-up is judged by, in one order for all options: each face's key cheek, ratio of cheeks and
/// outline, and meters by hand. All in stops, but `said` as people say it.
struct KeyNumber {
    std::string name, said;
    Measured stops;  // log2 lux, the ratio, the separation
};
std::vector<KeyNumber> key_numbers(const Sheet& sheet);

/// What `now` differs from `first` in the number of that name; nothing where one of them has no such number or no
/// light.
struct KeyDifference {
    bool known = false;
    Measured stops;
};
KeyDifference difference(const KeyNumber& now, const std::vector<KeyNumber>& first);

}  // namespace rushlight
