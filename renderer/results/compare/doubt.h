// Which rough input moves the answer most, so that a scout knows what to measure again: every input is moved by its
// usual error, and the readings are traced again with the same random numbers.
#pragma once

#include "paths/work/effort.h"
#include "results/sheet/sheet.h"
#include "setup/plain/setup.h"

#include <string>
#include <vector>

namespace rushlight {

struct Doubt {
    std::string input;            // "walls, 1/3 stop paler"
    std::vector<Measured> stops;  // change of each reading
    double largest = 0;           // of them, absolute
};

struct Doubts {
    std::string title, setup, option;
    std::vector<std::string> readings;
    std::vector<Doubt> inputs;  // what moves the answer most first
    double seconds = 0;
};

Doubts doubts(const Setup& setup, const Effort& effort);

}  // namespace rushlight
