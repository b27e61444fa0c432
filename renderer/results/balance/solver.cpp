#include "results/balance/solver.h"

#include "quantity/colour.h"
#include "setup/advice/kit_use.h"
#include "setup/plain/catalogues.h"
#include "setup/plain/whereabouts.h"
#include "setup/text/words.h"

#include <algorithm>
#include <array>

namespace rushlight {

namespace {

// Sheets as they are sold; the first costs nothing.
constexpr std::array<double, 5> nd_sheets{0, 0.3, 0.6, 0.9, 1.2};
// What was met and is lost counts as much more than what was missed and stays so.
constexpr double lost_counts = 10;
// A gel has to earn its place: it must take at least this off the sum of squares.
constexpr double worth_a_gel = 0.05;

// Watts of a filament go as its volts to the 1.6th, light as to the 3.4th (lamp handbooks, from memory).
constexpr double filament_power = 1.6 / 3.4;

}  // namespace

BalanceSolver::Answer BalanceSolver::solve(bool gels, bool nd) const {
    Answer best;
    for (const double sheet : nd_sheets) {
        if (sheet > 0 && !nd) break;
        Answer a = with_gels({std::vector<int>(lamps_.size(), -1), sheet}, gels);
        if (a.cost < best.cost - worth_a_gel) best = std::move(a);
        if (best.all_met) break;  // the thinnest that serves
    }
    return best;
}

std::optional<DimmedByND> dimmed_by_nd(double level) {
    if (level <= 0 || level >= lowest_worth_setting) return std::nullopt;
    constexpr double easily_held = 0.25;
    DimmedByND by;
    for (std::size_t i = 1; i < nd_sheets.size() && (i == 1 || by.level < easily_held); ++i)
        by = {nd_sheets[i], level * std::pow(10.0, nd_sheets[i])};
    return by;
}

BalanceSolver::Answer BalanceSolver::by_fewer_hands(Answer a) const {
    const auto off_by = [&](const TargetNumber& n, const Answer& answer) {
        return std::abs(n.off(reckoned(n, answer))) / n.within;
    };
    const auto try_level = [&](std::size_t i, double level) {
        Answer other = a;
        other.levels.levels[i] = level;
        const bool as_good = std::all_of(numbers_.all().begin(), numbers_.all().end(), [&](const TargetNumber& n) {
            constexpr double well = 0.8;
            const double now = off_by(n, a), then = off_by(n, other);
            return then <= std::max(well, now);
        });
        const std::vector<LevelLoad> circuits = loads();
        const bool carried = std::all_of(circuits.begin(), circuits.end(), [&](const LevelLoad& l) {
            return l.watts_at(other.levels.levels) <= std::max(l.most, l.watts_at(a.levels.levels));
        });
        if (as_good && carried) a = std::move(other);
    };
    for (std::size_t i = 0; i < lamps_.size(); ++i) {
        const double level = a.levels.levels[i], before = as_found_.levels[i];
        if (level != before) try_level(i, before);
        if (a.levels.levels[i] == level && level < lowest_worth_setting &&
            (before <= 0 || before >= lowest_worth_setting))
            try_level(i, 0);
    }
    return a;
}

double BalanceSolver::reckoned(const TargetNumber& n, const Answer& a) const {
    if (n.colour) return mired_at(n, a);
    return level_target(n, a.filters).value(a.levels.levels, a.levels.stop);
}

bool BalanceSolver::lacks_a_lamp(const TargetNumber& n, const Answer& a) const {
    if (n.colour) return false;
    const LevelTarget t = level_target(n, a.filters);
    if (!(t.off(a.levels.levels, a.levels.stop) < 0)) return false;
    for (std::size_t i = 0; i < lamps_.size(); ++i) {
        std::vector<double> at_full = a.levels.levels;
        at_full[i] = 1;
        constexpr double helps = 1.0 / 3;  // stops
        if (t.value(at_full, a.levels.stop) - t.value(a.levels.levels, a.levels.stop) > helps) return false;
    }
    return true;
}

std::string BalanceSolver::limit(const TargetNumber& n, const Answer& a) const {
    if (n.colour) return "no level and no gel that may change brings this colour";
    const LevelTarget t = level_target(n, a.filters);
    const double off = t.off(a.levels.levels, a.levels.stop);
    std::string at_limit;
    const auto say = [&](const std::string& what) { at_limit += (at_limit.empty() ? "" : "; ") + what; };
    double helps_at_all = 0;
    const std::vector<LevelLoad> carried = loads();
    for (std::size_t i = 0; i < lamps_.size(); ++i) {
        std::vector<double> more = a.levels.levels;
        more[i] *= 1.05;
        const double slope = (t.value(more, a.levels.stop) - t.value(a.levels.levels, a.levels.stop)) / std::log2(1.05);
        const double helps = -slope * (off > 0 ? 1 : -1);
        helps_at_all = std::max(helps_at_all, std::abs(helps));
        if (helps > 0.02 && a.levels.levels[i] > 0.995) say(in_quotes(name(i)) + " is at full");
        const auto& circuits = traced_.rig.circuits;
        for (std::size_t c = 0; helps > 0.02 && c < circuits.size(); ++c)
            if (carried[c].watts[i] > 0 && carried[c].watts_at(a.levels.levels) > 0.995 * carried[c].most)
                say("circuit " + in_quotes(circuits[c].name) + " carries no more");
        if (helps < -0.02 && a.levels.levels[i] < lowest_level * 1.01) say(in_quotes(name(i)) + " is at its lowest");
    }
    if (t.by_stop != 0 && stop_.second > stop_.first)
        for (const auto& [end, word] : {std::pair{stop_.first, "widest"}, std::pair{stop_.second, "smallest"}})
            if (std::abs(a.levels.stop - end) < 1e-3) say(std::string("the stop is the ") + word + " allowed");
    if (!at_limit.empty()) return at_limit;
    if (helps_at_all < 0.1) return "most of this light comes from what may not change: " + largest_fixed(n);
    if (lacks_a_lamp(n, a)) return "no lamp of this set-up lights it enough";
    return "the targets pull against each other";
}

Spectrum BalanceSolver::gel_share(std::size_t i, int gel) const {
    if (gel < 0) return Spectrum{1.0F};
    const Lamp& l = traced_.rig.lamps[lamps_[i]];
    double kelvin = l.gelled_kelvin();
    const GelKind& kind = gel_kinds()[static_cast<std::size_t>(gel)];
    return gel_before(kelvin, kind).value_or(Spectrum{0.0F});
}

BalanceSolver::Answer BalanceSolver::with_gels(Filters filters, bool gels) const {
    Answer best = at(filters);
    for (bool better = gels; better && !best.all_met;) {
        better = false;
        Answer next = best;
        for (std::size_t i = 0; i < lamps_.size(); ++i)
            for (int g = -1; g < static_cast<int>(gel_kinds().size()); ++g) {
                if (g == best.filters.gel[i] || (g >= 0 && gel_kinds()[static_cast<std::size_t>(g)].mired == 0))
                    continue;
                Filters tried = best.filters;
                tried.gel[i] = g;
                if (gel_share(i, g).dark()) continue;
                Answer a = at(tried);
                if (a.cost < next.cost - worth_a_gel) next = std::move(a);
            }
        better = next.cost < best.cost;
        best = std::move(next);
    }
    return best;
}

BalanceSolver::Answer BalanceSolver::at(const Filters& filters) const {
    LevelProblem p;
    for (const double level : as_found_.levels) {
        p.now.push_back(std::max(level, lowest_level));
        p.least.push_back(lowest_level);
        p.most.push_back(1);
    }
    p.loads = loads();
    p.stop_least = stop_.first;
    p.stop_most = stop_.second;
    for (std::size_t k = 0; k < numbers_.all().size(); ++k) {
        if (numbers_.all()[k].colour) continue;
        p.targets.push_back(level_target(numbers_.all()[k], filters));
        p.targets.back().keep = as_found_.met[k];
    }
    Answer a{filters, solve_levels(p), 0, true};
    for (std::size_t k = 0; k < numbers_.all().size(); ++k) {
        const TargetNumber& n = numbers_.all()[k];
        const double share = std::abs(n.off(reckoned(n, a))) / n.within;
        a.cost += share * share * (as_found_.met[k] && share > 1 ? lost_counts : 1);
        a.all_met = a.all_met && share <= 0.91;
    }
    return a;
}

double BalanceSolver::through_nd(std::size_t source, double nd) const {
    const auto& lamps = traced_.rig.lamps;
    const auto lamp =
        std::find_if(lamps.begin(), lamps.end(), [&](const Lamp& l) { return l.name == sources_[source]; });
    return lamp != lamps.end() && inside(traced_.place, lamp->at) ? 1.0 : std::pow(10.0, -nd);
}

int BalanceSolver::lamp_of(std::size_t source) const {
    for (std::size_t i = 0; i < lamps_.size(); ++i)
        if (name(i) == sources_[source]) return static_cast<int>(i);
    return -1;
}

LevelTarget BalanceSolver::level_target(const TargetNumber& n, const Filters& filters) const {
    LevelTarget t;
    t.over.assign(lamps_.size(), 0.0);
    add(n.over, filters, t.over, t.over_fixed);
    if (!n.under.empty()) {
        t.under.assign(lamps_.size(), 0.0);
        t.under_fixed = 0;
        add(n.under, filters, t.under, t.under_fixed);
    }
    t.shift = n.shift;
    t.by_stop = n.by_stop;
    t.wanted = n.wanted;
    t.within = n.within;
    t.at_least = n.side == Want::Side::at_least;
    t.at_most = n.side == Want::Side::at_most;
    return t;
}

void BalanceSolver::add(const std::vector<std::size_t>& meters, const Filters& filters, std::vector<double>& by_level,
                        double& fixed) const {
    for (const std::size_t m : meters)
        for (std::size_t s = 0; s < sources_.size(); ++s) {
            const Spectrum light = found_.light(m, s);
            const double nd = through_nd(s, filters.nd) / static_cast<double>(meters.size());
            const int i = lamp_of(s);
            if (i < 0) {
                fixed += nd * static_cast<double>(photometric(light));
                continue;
            }
            const auto at = static_cast<std::size_t>(i);
            by_level[at] += nd * static_cast<double>(photometric(light * gel_share(at, filters.gel[at]))) /
                            traced_.rig.lamps[lamps_[at]].level;
        }
}

double BalanceSolver::mired_at(const TargetNumber& n, const Answer& a) const {
    Spectrum light;
    for (const std::size_t m : n.over)
        for (std::size_t s = 0; s < sources_.size(); ++s) {
            Spectrum one = found_.light(m, s) * static_cast<float>(through_nd(s, a.filters.nd));
            if (const int i = lamp_of(s); i >= 0) {
                const auto at = static_cast<std::size_t>(i);
                one *= gel_share(at, a.filters.gel[at]);
                one *= static_cast<float>(a.levels.levels[at] / traced_.rig.lamps[lamps_[at]].level);
            }
            light += one;
        }
    return light.dark() ? 0 : mired(colour_temperature(tristimulus(light)).cct).value;
}

std::string BalanceSolver::largest_fixed(const TargetNumber& n) const {
    std::string largest = "nothing";
    double most = 0;
    for (std::size_t s = 0; s < sources_.size(); ++s) {
        if (lamp_of(s) >= 0) continue;
        double sum = 0;
        for (const auto* meters : {&n.over, &n.under})
            for (const std::size_t m : *meters) sum += static_cast<double>(photometric(found_.light(m, s)));
        if (sum <= most) continue;
        most = sum;
        largest = sources_[s];
    }
    return largest;
}

std::vector<LevelLoad> BalanceSolver::loads() const {
    std::vector<LevelLoad> loads;
    const auto& rig = traced_.rig;
    for (const Circuit& c : rig.circuits) {
        LevelLoad load;
        load.most = long_load_share * c.volts * c.amps - c.other;
        for (std::size_t i = 0; i < rig.lamps.size(); ++i) {
            const Lamp& l = rig.lamps[i];
            if (l.circuit != c.name) continue;
            if (std::count(lamps_.begin(), lamps_.end(), i) == 0 && !l.burning().dark()) load.most -= l.watts;
        }
        for (const std::size_t i : lamps_) {
            const Lamp& l = rig.lamps[i];
            load.watts.push_back(l.circuit == c.name ? l.watts : 0);
            load.power.push_back(l.light == LightKind::tungsten ? filament_power : 1);
        }
        loads.push_back(std::move(load));
    }
    return loads;
}

}  // namespace rushlight
