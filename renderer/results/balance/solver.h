// Levels, gels and ND that bring a set-up's numbers to their targets, reckoned from its layers.
#pragma once

#include "results/balance/level_solver.h"
#include "results/balance/target_numbers.h"
#include "setup/plain/setup.h"

#include <cmath>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace rushlight {

/// Common practice, no source: the lowest that most heads hold without flicker.
inline constexpr double lowest_level = 0.01;
/// Common practice, no source: nobody sets a head lower than this by its dial.
inline constexpr double lowest_worth_setting = 0.1;
/// ND to put on a lamp that would have to burn so low, and the level then; nothing where it need not.
struct DimmedByND {
    double density = 0, level = 1;
};
std::optional<DimmedByND> dimmed_by_nd(double level);

/// The filters that may be added: one gel a lamp (by number; -1: none), one ND on all windows.
struct BalanceFilters {
    std::vector<int> gel;
    double nd = 0;
};

/// What stands before anything is changed.
struct BalanceAsFound {
    std::vector<double> levels;  // of the lamps that may change; 0: off
    std::vector<bool> met;       // each target
};

class BalanceSolver {
public:
    using Filters = BalanceFilters;
    /// `found` was measured in `traced`, whose lamps that may change (`lamps`, by number) all burn. `stop`: bounds on
    /// the change of the camera's stop. All of them must outlive the solver.
    BalanceSolver(const Setup& traced, const std::vector<std::string>& sources, const std::vector<std::size_t>& lamps,
                  const TargetNumbers& numbers, const MeterResults& found, std::pair<double, double> stop,
                  BalanceAsFound as_found)
        : traced_(traced),
          sources_(sources),
          lamps_(lamps),
          numbers_(numbers),
          found_(found),
          stop_(stop),
          as_found_(std::move(as_found)) {}

    struct Answer {
        Filters filters;
        LevelAnswer levels;
        double cost = INFINITY;  // sum of the squares of the targets' errors, in units of their tolerance
        bool all_met = false;
    };

    Answer solve(bool gels, bool nd) const;
    /// The same by fewer hands: lamps left as they were, or off that would be set below a tenth, wherever what is met
    /// stays well met.
    Answer by_fewer_hands(Answer a) const;
    double reckoned(const TargetNumber& n, const Answer& a) const;
    /// True where more light is wanted and none of the lamps can give it: they do not reach there, or are at full.
    bool lacks_a_lamp(const TargetNumber& n, const Answer& a) const;
    /// Sentences about what keeps a target from being reached.
    std::string limit(const TargetNumber& n, const Answer& a) const;
    /// The load that is left on each circuit for the lamps that may change. A dimmed filament draws more than its share
    /// of the light, an LED draws just its share.
    std::vector<LevelLoad> loads() const;

private:
    const std::string& name(std::size_t i) const { return traced_.rig.lamps[lamps_[i]].name; }
    Spectrum gel_share(std::size_t i, int gel) const;
    Answer with_gels(Filters filters, bool gels) const;
    Answer at(const Filters& filters) const;
    /// The share of a source's light that ND on the windows lets through.
    double through_nd(std::size_t source, double nd) const;
    /// Number of a source's lamp among those that may change, or -1.
    int lamp_of(std::size_t source) const;
    LevelTarget level_target(const TargetNumber& n, const Filters& filters) const;
    void add(const std::vector<std::size_t>& meters, const Filters& filters, std::vector<double>& by_level,
             double& fixed) const;
    double mired_at(const TargetNumber& n, const Answer& a) const;
    std::string largest_fixed(const TargetNumber& n) const;

    const Setup& traced_;
    const std::vector<std::string>& sources_;
    const std::vector<std::size_t>& lamps_;
    const TargetNumbers& numbers_;
    const MeterResults& found_;
    std::pair<double, double> stop_;
    BalanceAsFound as_found_;
};

}  // namespace rushlight
