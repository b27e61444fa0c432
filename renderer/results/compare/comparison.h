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

/// True if a difference is more than chance: beyond three errors, which chance alone passes about once in four hundred
/// times.
inline bool is_real(const Measured& stops) {
    return std::isfinite(stops.value) && std::isfinite(stops.error) && std::abs(stops.value) > 3 * stops.error;
}

/// The numbers that a set-up is judged by, in one order for all options: each face's key cheek, ratio of cheeks and
/// outline, and placed meters. All in stops, but `said` as people say it.
struct MainNumber {
    std::string name, said;
    Measured stops;  // log2 lux, the ratio, the separation
};
std::vector<MainNumber> main_numbers(const Sheet& sheet);

/// The difference between `now` and the number of the same name in `first`; nothing where there is no such number, or
/// no light.
struct MainDifference {
    bool known = false;
    Measured stops;
};
MainDifference difference(const MainNumber& now, const std::vector<MainNumber>& first);

}  // namespace rushlight
