// Set-ups that must cut together: the same people, at the hours at which they are shot.
#pragma once

#include "results/day/day_course.h"
#include "results/day/shooting_order.h"

namespace rushlight {

/// The differences on one face between two set-ups, each read at an hour of its own.
struct Mismatch {
    std::string first, second, mark;
    double first_time = 0, second_time = 0;  // hours
    double key_fill = 0, level = 0;          // stops, second less first
    double kelvin = 0;                       // K, second less first
    bool any = false;                        // beyond a third of a stop or 200 K
};

/// Every face that is in frame in one and on its mark in the other of two set-ups, at given times; the level is left
/// out of `any`: a stop puts it right.
std::vector<Mismatch> mismatches(const std::vector<DayCourse>& days, Weather weather, const std::vector<double>& times);

}  // namespace rushlight
