#include "results/balance/level_solver.h"

#include <nlopt.hpp>

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

// Unknowns are levels in stops, so that a change of a stop counts the same for every lamp; the last is the stop.
using Point = std::vector<double>;

constexpr double to_stops = 1.442695040888963;  // d log2(x) = dx / (x ln 2)
// The light of a lamp too dark to matter: it keeps logarithms finite.
constexpr double least_light = 1e-12;

std::vector<double> levels_of(const Point& x) {
    std::vector<double> levels;
    for (std::size_t i = 0; i + 1 < x.size(); ++i) levels.push_back(std::exp2(x[i]));
    return levels;
}

/// How far off, with its slope in every unknown.
double off_with_slope(const LevelTarget& t, const Point& x, Point& slope) {
    const std::vector<double> levels = levels_of(x);
    double over = std::max(least_light, t.over_fixed), under = std::max(least_light, t.under_fixed);
    for (std::size_t i = 0; i < t.over.size(); ++i) over += t.over[i] * levels[i];
    for (std::size_t i = 0; i < t.under.size(); ++i) under += t.under[i] * levels[i];
    slope.assign(x.size(), 0.0);
    const double off = t.off(levels, x.back());
    if (off == 0 && (t.at_least || t.at_most)) return 0;
    // d/dx log2(sum a 2^x) = a 2^x / sum.
    for (std::size_t i = 0; i < levels.size(); ++i) {
        if (i < t.over.size()) slope[i] += t.over[i] * levels[i] / over;
        if (i < t.under.size()) slope[i] -= t.under[i] * levels[i] / under;
    }
    slope.back() = t.by_stop;
    return off;
}

struct Task {
    LevelProblem* problem;
    Point now;
    double pull;  // weight of a change of level against an error of a target
};

double squares_off(unsigned n, const double* at, double* gradient, void* data) {
    const auto& task = *static_cast<const Task*>(data);
    const Point x(at, at + n);
    Point slope;
    double sum = 0;
    if (gradient) std::fill(gradient, gradient + n, 0.0);
    for (const LevelTarget& t : task.problem->targets) {
        const double off = off_with_slope(t, x, slope) / t.within;
        sum += off * off;
        for (unsigned i = 0; gradient && i < n; ++i) gradient[i] += 2 * off * slope[i] / t.within;
    }
    for (unsigned i = 0; i < n; ++i) {
        const double change = x[i] - task.now[i];
        sum += task.pull * change * change;
        if (gradient) gradient[i] += 2 * task.pull * change;
    }
    return sum;
}

double squares_changed(unsigned n, const double* at, double* gradient, void* data) {
    const auto& task = *static_cast<const Task*>(data);
    double sum = 0;
    for (unsigned i = 0; i < n; ++i) {
        const double change = at[i] - task.now[i];
        sum += change * change;
        if (gradient) gradient[i] = 2 * change;
    }
    return sum;
}

struct Side {
    const LevelTarget* target;
    double sign;
    double room;  // stops that it may be off
};
/// Zero or below where the target is met, on one side of it.
double outside(unsigned n, const double* at, double* gradient, void* data) {
    const auto& side = *static_cast<const Side*>(data);
    Point slope;
    const double off = off_with_slope(*side.target, Point(at, at + n), slope);
    for (unsigned i = 0; gradient && i < n; ++i) gradient[i] = side.sign * slope[i];
    return side.sign * off - side.room;
}

/// Zero or below where the circuit carries the load; in shares of what the circuit carries.
double overload(unsigned n, const double* at, double* gradient, void* data) {
    const auto& load = *static_cast<const LevelLoad*>(data);
    const Point x(at, at + n);
    const double carries = std::max(load.most, 1.0);
    if (gradient) std::fill(gradient, gradient + n, 0.0);
    for (std::size_t i = 0; gradient && i < load.watts.size(); ++i)
        gradient[i] = load.watts[i] * std::exp2(load.power[i] * x[i]) * load.power[i] / to_stops / carries;
    return (load.watts_at(levels_of(x)) - load.most) / carries;
}

double worst_of(const LevelProblem& p, const Point& x) {
    double worst = 0;
    for (const LevelTarget& t : p.targets) worst = std::max(worst, std::abs(t.off(levels_of(x), x.back())) / t.within);
    return worst;
}

void add_sides(const LevelTarget& t, double room, std::vector<Side>& sides) {
    if (!t.at_least) sides.push_back({&t, 1, room});
    if (!t.at_most) sides.push_back({&t, -1, room});
}

void bound(nlopt::opt& solver, const Point& low, const Point& high) {
    solver.set_lower_bounds(low);
    solver.set_upper_bounds(high);
    solver.set_xtol_abs(1e-7);
    solver.set_ftol_rel(1e-12);
    solver.set_maxeval(2000);
}

/// The library ends some searches by an exception when no further step helps: what was reached stands.
double run(nlopt::opt& solver, Point& x) {
    double reached = INFINITY;
    try {
        solver.optimize(x, reached);
    } catch (const nlopt::roundoff_limited&) {
    } catch (const std::runtime_error&) {
    }
    return reached;
}

/// Of a tolerance: what is off by no more stays met when it is traced again.
constexpr double well_met = 0.9;
/// Common practice, no source: less than a quarter of a stop is not worth a hand at the dimmers, and half of that may
/// be given up for a lamp left alone.
constexpr double worth_a_hand = 0.25, given_up = worth_a_hand / 2;

/// Where not all targets can be met: those that were met as found stay met, and what brings the others no nearer stays
/// as it was. `all`: where the least squares of all of them lie.
template <class Carried>
Point without_harm(Task& task, const Point& low, const Point& high, const Point& all, const Carried& carried) {
    LevelProblem& p = *task.problem;
    const Point& now = task.now;
    const auto n = static_cast<unsigned>(now.size());
    const auto off = [&](const LevelTarget& t, const Point& x) { return std::abs(t.off(levels_of(x), x.back())); };
    std::vector<Side> sides;
    for (LevelTarget& t : p.targets)
        if (t.keep) add_sides(t, std::max(well_met * t.within, off(t, now)), sides);
    const auto kept = [&](const Point& x) {
        return carried(x) && std::all_of(sides.begin(), sides.end(), [&](const Side& s) {
                   return s.sign * s.target->off(levels_of(x), x.back()) <= s.room + 1e-3;
               });
    };
    Point best = kept(all) ? all : now;
    for (const Point& begin : {now, all}) {
        Point x = begin;
        nlopt::opt solver(nlopt::LD_SLSQP, n);
        bound(solver, low, high);
        solver.set_min_objective(squares_off, &task);
        for (Side& s : sides) solver.add_inequality_constraint(outside, &s, 1e-6);
        for (LevelLoad& load : p.loads) solver.add_inequality_constraint(overload, &load, 1e-4);
        run(solver, x);
        if (kept(x) && squares_off(n, x.data(), nullptr, &task) < squares_off(n, best.data(), nullptr, &task)) best = x;
    }
    // What the others lose, at the most, where `x` is set instead of `than`.
    const auto loss = [&](const Point& x, const Point& than) {
        double most = 0;
        for (const LevelTarget& t : p.targets)
            if (!t.keep) most = std::max(most, off(t, x) - off(t, than));
        return most;
    };
    if (loss(now, best) < worth_a_hand) return now;
    // The change that helps least goes first.
    const Point nearest = best;
    while (true) {
        Point least_lost = best;
        double lost = given_up;
        for (unsigned i = 0; i < n; ++i) {
            Point without = best;
            without[i] = now[i];
            const double l = loss(without, nearest);
            if (best[i] == now[i] || l >= lost || !kept(without)) continue;
            lost = l;
            least_lost = without;
        }
        if (least_lost == best) return best;
        best = least_lost;
    }
}

}  // namespace

double LevelTarget::value(const std::vector<double>& levels, double stop) const {
    double a = std::max(least_light, over_fixed), b = std::max(least_light, under_fixed);
    for (std::size_t i = 0; i < over.size(); ++i) a += over[i] * levels[i];
    for (std::size_t i = 0; i < under.size(); ++i) b += under[i] * levels[i];
    return std::log2(a / b) + shift + by_stop * stop;
}

double LevelTarget::off(const std::vector<double>& levels, double stop) const {
    const double d = value(levels, stop) - wanted;
    if ((at_least && d > 0) || (at_most && d < 0)) return 0;
    return d;
}

double LevelLoad::watts_at(const std::vector<double>& levels) const {
    double sum = 0;
    for (std::size_t i = 0; i < watts.size(); ++i) sum += watts[i] * std::pow(levels[i], power[i]);
    return sum;
}

LevelAnswer solve_levels(const LevelProblem& problem) {
    LevelProblem p = problem;
    Point now, low, high;
    for (std::size_t i = 0; i < p.now.size(); ++i) {
        low.push_back(std::log2(p.least[i]));
        high.push_back(std::log2(p.most[i]));
        now.push_back(std::clamp(std::log2(std::max(p.now[i], 1e-9)), low.back(), high.back()));
    }
    low.push_back(p.stop_least);
    high.push_back(p.stop_most);
    now.push_back(std::clamp(0.0, p.stop_least, p.stop_most));
    const auto n = static_cast<unsigned>(now.size());
    // Where even the lowest levels are too much there is nothing to be found: they are the answer.
    std::erase_if(p.loads, [&](LevelLoad& load) {
        const bool hopeless = load.watts_at(levels_of(low)) >= load.most;
        for (unsigned i = 0; hopeless && i < load.watts.size(); ++i)
            if (load.watts[i] > 0) now[i] = high[i] = low[i];
        return hopeless;
    });
    const auto keep_loads = [&](nlopt::opt& solver) {
        for (LevelLoad& load : p.loads) solver.add_inequality_constraint(overload, &load, 1e-4);
    };
    const auto carried = [&](const Point& x) {
        return std::all_of(p.loads.begin(), p.loads.end(),
                           [&](const LevelLoad& l) { return l.watts_at(levels_of(x)) <= 1.001 * l.most; });
    };

    // Least squares first, from several beginnings: sums of light have valleys.
    Task task{&p, now, 1e-4};
    Point best = now;
    double least = carried(now) ? squares_off(n, now.data(), nullptr, &task) : INFINITY;
    for (const double begin : {0.0, 0.15, 0.5, 0.85, 1.0}) {
        Point x = now;
        for (unsigned i = 0; begin > 0 && i < n; ++i) x[i] = low[i] + begin * (high[i] - low[i]);
        nlopt::opt solver(nlopt::LD_SLSQP, n);
        bound(solver, low, high);
        solver.set_min_objective(squares_off, &task);
        keep_loads(solver);
        run(solver, x);
        const double reached = squares_off(n, x.data(), nullptr, &task);
        if (reached < least && carried(x)) {
            least = reached;
            best = x;
        }
    }
    if (!std::isfinite(least)) best = low;
    if (worst_of(p, best) <= 0.5 && carried(best)) {
        std::vector<Side> sides;
        for (const LevelTarget& t : p.targets) add_sides(t, 0.5 * t.within, sides);
        nlopt::opt solver(nlopt::LD_SLSQP, n);
        bound(solver, low, high);
        solver.set_min_objective(squares_changed, &task);
        for (Side& s : sides) solver.add_inequality_constraint(outside, &s, 1e-6);
        keep_loads(solver);
        Point x = best;
        run(solver, x);
        if (worst_of(p, x) <= 0.51 && carried(x) &&
            squares_changed(n, x.data(), nullptr, &task) < squares_changed(n, best.data(), nullptr, &task))
            best = x;
        if (worst_of(p, now) <= well_met && carried(now)) best = now;  // nothing has to change
    } else if (carried(now)) {
        best = without_harm(task, low, high, best, carried);
    }
    return {levels_of(best), best.back(), worst_of(p, best)};
}

}  // namespace rushlight
