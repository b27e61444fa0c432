// Levels that bring sums of light to their targets: each target is log2 of one sum over another, each sum linear in the
// levels. Bounded, small and smooth; the solver library is seen by this file's .cpp alone.
#pragma once

#include <vector>

namespace rushlight {

/// log2((c + sum of a_i level_i) / (d + sum of b_i level_i)) + shift is to be `wanted`.
struct LevelTarget {
    std::vector<double> over;   // a_i, one for each level
    double over_fixed = 0;      // c
    std::vector<double> under;  // b_i; empty and `under_fixed` 1: there is no second sum
    double under_fixed = 1;     // d
    double shift = 0;           // stops added
    double by_stop = 0;         // times the change of the camera's stop, in stops
    double wanted = 0, within = 1.0 / 3;
    bool at_least = false, at_most = false;
    bool keep = false;  // met as found: where not all can be met, this one stays met

    double value(const std::vector<double>& levels, double stop) const;
    /// How far outside, in stops: 0 inside an at_least or at_most.
    double off(const std::vector<double>& levels, double stop) const;
};

/// The load of one circuit: the sum of watts_i level_i^power_i must be no more than `most`.
struct LevelLoad {
    std::vector<double> watts, power;  // one for each level; 0 W: not on it
    double most = 0;

    double watts_at(const std::vector<double>& levels) const;
};

struct LevelProblem {
    std::vector<double> now;               // levels as found
    std::vector<double> least, most;       // bounds, shares of full
    double stop_least = 0, stop_most = 0;  // bounds on the change of stop
    std::vector<LevelTarget> targets;
    std::vector<LevelLoad> loads;
};

struct LevelAnswer {
    std::vector<double> levels;
    double stop = 0;
    double worst = 0;  // largest |off| / within
};

/// Nothing changes where all targets are met. Where all can be met within half their tolerance: the smallest change (in
/// stops) that does it. Else the least squares of what those are off that are not to be kept, each in units of its
/// tolerance, while the others stay within theirs; and no level changes that brings none of them nearer by a quarter of
/// a stop. Loads are kept in any case.
LevelAnswer solve_levels(const LevelProblem& problem);

}  // namespace rushlight
