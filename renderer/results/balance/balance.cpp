#include "results/balance/balance.h"

#include "quantity/colour.h"
#include "quantity/exposure.h"
#include "results/balance/missing_lamp.h"
#include "results/balance/places.h"
#include "results/balance/reckoning.h"
#include "setup/advice/kit_use.h"
#include "setup/plain/catalogues.h"
#include "setup/text/where.h"
#include "setup/text/words.h"

#include <algorithm>
#include <cmath>
#include <optional>

namespace rushlight {

namespace {

std::vector<std::size_t> may_change(const Setup& s) {
    std::vector<std::size_t> lamps;
    std::vector<std::string> names;
    for (const Lamp& l : s.rig.lamps) names.push_back(l.name);
    if (s.balance.lamps)
        for (const std::string& wanted : *s.balance.lamps)
            if (std::count(names.begin(), names.end(), wanted) == 0)
                throw InputError("[balance] lamps: no lamp " + in_quotes(wanted) + " in set-up " + in_quotes(s.name) +
                                 hint(wanted, names));
    for (std::size_t i = 0; i < s.rig.lamps.size(); ++i) {
        const Lamp& l = s.rig.lamps[i];
        const bool named = s.balance.lamps && std::count(s.balance.lamps->begin(), s.balance.lamps->end(), l.name) > 0;
        if (s.balance.lamps ? named : !l.burning().dark()) lamps.push_back(i);
    }
    return lamps;
}

/// Lamps that are left burning so low that few heads do it.
void say_what_is_dim(Balance& b) {
    for (const LampSetting& l : b.lamps)
        if (const auto by = dimmed_by_nd(l.after); by && l.changed())
            b.remarks.push_back(in_quotes(l.lamp) + " at " + plain(std::round(1000 * l.after) / 10) +
                                " %: few heads hold so low a level well. Put nd " + plain(by->density) +
                                " on it and set " + plain(std::round(100 * by->level)) + " %, or move it back.");
}

std::ptrdiff_t reached_in(const Balance& b) {
    return std::count_if(b.targets.begin(), b.targets.end(), [](const TargetResult& t) { return t.reached; });
}

/// All of it once more with the lamps that are missing, off to begin with so that what is met stays met. Lamps that
/// bring nothing so are said to.
std::shared_ptr<Balance> with_missing(Setup setup, Balance& without, const std::vector<Sheet>& others,
                                      const Effort& effort, const LayerCache& cache) {
    std::vector<std::string> names;
    for (const LampSetting& l : without.lamps) names.push_back(l.lamp);
    const std::size_t before = names.size();
    for (const MissingLamp& m : without.missing) {
        if (!m.trouble.empty()) continue;
        setup.rig.lamps.push_back(m.lamp);
        setup.rig.lamps.back().on = false;
        names.push_back(m.lamp.name);
    }
    if (names.size() == before || effort.stopped()) return nullptr;
    setup.balance.lamps = names;
    auto with = std::make_shared<Balance>(balance(setup, others, effort, cache));
    if (reached_in(*with) > reached_in(without)) return with;
    for (MissingLamp& m : without.missing)
        if (m.trouble.empty())
            m.trouble =
                "Bright enough for this, it would cost targets that are met: darken the background, or ask for less";
    return nullptr;
}

void say_loads(Balance& b, const Setup& setup, const std::vector<std::size_t>& lamps,
               const std::vector<LevelLoad>& loads, const std::vector<double>& levels) {
    const auto watts = [](double w) { return plain(std::round(w)) + " W"; };
    for (std::size_t i = 0; i < loads.size(); ++i) {
        const Circuit& c = setup.rig.circuits[i];
        const double carries = long_load_share * c.volts * c.amps, others = carries - loads[i].most;
        const double at_full = others + loads[i].watts_at(std::vector<double>(levels.size(), 1.0));
        b.remarks.push_back("Circuit " + in_quotes(c.name) + ": about " + watts(others + loads[i].watts_at(levels)) +
                            " as set, " + watts(at_full) + " with these lamps at full; 80 % of its breaker is " +
                            watts(carries) + ".");
        for (const std::size_t l : lamps)
            if (setup.rig.lamps[l].circuit == c.name && setup.rig.lamps[l].watts <= 0)
                b.remarks.push_back("What " + in_quotes(setup.rig.lamps[l].name) + " draws is not known.");
    }
    if (!loads.empty())
        b.remarks.emplace_back(
            "Watts as set suppose that a LED draws in proportion to its light, and a filament, dimmed, somewhat more. "
            "Local codes, the owner and a licensed electrician decide what a circuit may carry.");
}

}  // namespace

Setup as_set(const Setup& setup, const Balance& b) {
    Setup s = moved(setup, b.shares_moved);
    for (const LampSetting& set : b.lamps)
        for (Lamp& l : s.rig.lamps) {
            if (l.name != set.lamp) continue;
            l.on = set.after > 0;
            l.level = set.after;
            if (const GelKind* kind = kind_named(gel_kinds(), set.gel)) {
                double kelvin = l.gelled_kelvin();
                l.gel *= gel_before(kelvin, *kind).value_or(Spectrum{1.0F});
            }
        }
    for (Opening& o : s.place.room.openings) o.nd_density += b.nd;
    for (OpeningPatch& o : s.place.model_openings) o.nd_density += b.nd;
    if (s.camera >= 0) s.rig.cameras[static_cast<std::size_t>(s.camera)].exposure.t_stop = b.stop_after;
    return s;
}

Balance balance(const Setup& as_found, const std::vector<Sheet>& others, const Effort& effort, const LayerCache& cache,
                const Kit* kit) {
    const Clock clock;
    Balance b;
    b.title = as_found.title;
    b.setup = as_found.name;
    b.option = as_found.option;
    const std::vector<std::size_t> lamps = may_change(as_found);
    std::pair<double, double> stop{0, 0};
    const double base_stop = stop_of_targets(as_found);
    if (as_found.camera >= 0) {
        b.stop_before = as_found.its_camera()->exposure.t_stop;
        b.stop_after = base_stop;
        if (as_found.balance.stop)
            stop = {2 * std::log2(as_found.balance.stop->first / base_stop),
                    2 * std::log2(as_found.balance.stop->second / base_stop)};
    }
    const Reckoning before(as_found, lamps, others, effort, cache);
    const BalanceAsFound standing = before.standing(lamps);
    const auto solved = [&](const Reckoning& r) {
        return BalanceSolver(r.traced, r.scene.lights.sources(), lamps, r.numbers, r.found, stop, standing)
            .solve(r.setup.balance.gels, r.setup.balance.nd);
    };
    BalanceSolver::Answer answer = solved(before);
    std::optional<Reckoning> elsewhere;
    if (!answer.all_met && !as_found.balance.moves.empty()) {
        b.shares_moved = best_shares(as_found, [&](const Setup& there, double metres) {
            if (effort.stopped()) return static_cast<double>(INFINITY);
            const BalanceSolver::Answer a = solved(Reckoning(there, lamps, others, effort, cache));
            // Takes the shortest move among those that reach the targets, else the one that comes nearest.
            constexpr double missed = 1000, a_metre = 0.01;
            return (a.all_met ? 0 : missed + a.cost) + a_metre * metres;
        });
        const Setup now = moved(as_found, b.shares_moved);
        for (std::size_t i = 0; i < b.shares_moved.size(); ++i) {
            const BalanceMove& move = as_found.balance.moves[i];
            if (b.shares_moved[i] > 0) b.moves.push_back({move.thing, place_of(as_found, move), place_of(now, move)});
        }
        elsewhere.emplace(now, lamps, others, effort, cache);
        answer = solved(*elsewhere);
    }
    const Reckoning& there = elsewhere ? *elsewhere : before;
    const Setup& setup = there.setup;
    b.nd = answer.filters.nd;
    // ND takes more at a slant than straight on: with the sheets put in, the levels are found once more.
    MeterResults found = there.found;
    Setup traced = there.traced;
    if (b.nd > 0) {
        for (Opening& o : traced.place.room.openings) o.nd_density += b.nd;
        for (OpeningPatch& o : traced.place.model_openings) o.nd_density += b.nd;
        KeptLight dimmed(traced, traced, cache);
        found = dimmed.measure(build_scene(traced), there.numbers.meters(), effort, there.numbers.wanted());
    }
    const BalanceSolver solver(traced, there.scene.lights.sources(), lamps, there.numbers, found, stop, standing);
    if (b.nd > 0) answer = solver.solve(setup.balance.gels, false);
    answer = solver.by_fewer_hands(std::move(answer));
    if (setup.camera >= 0) b.stop_after = base_stop * std::exp2(answer.levels.stop / 2);
    for (std::size_t i = 0; i < lamps.size(); ++i) {
        const Lamp& l = setup.rig.lamps[lamps[i]];
        LampSetting set;
        set.lamp = l.name;
        set.before = l.burning().dark() ? 0 : l.level;
        set.after = std::abs(answer.levels.levels[i] - set.before) < 5e-4
                        ? set.before
                        : std::round(1000 * answer.levels.levels[i]) / 1000;
        if (set.before <= 0 && set.after <= lowest_level) set.after = 0;  // left off
        if (answer.filters.gel[i] >= 0) set.gel = gel_kinds()[static_cast<std::size_t>(answer.filters.gel[i])].name;
        b.lamps.push_back(set);
    }

    // The proof: everything set so, traced anew with other random numbers.
    Effort proof = effort;
    proof.seed = effort.seed + 7777;
    proof.tell = nullptr;
    const Scene set_scene = build_scene(as_set(as_found, b));
    const MeterResults after = measure(set_scene, there.numbers.meters(), proof, there.numbers.wanted());
    b.all_reached = true;
    for (std::size_t i = 0; i < there.numbers.all().size(); ++i) {
        const TargetNumber& n = there.numbers.all()[i];
        const TargetNumber& was = before.numbers.all()[i];
        TargetResult r;
        r.name = n.name;
        r.want = n.want;
        r.colour = n.colour;
        r.wanted = n.wanted;
        r.within = n.within;
        r.before = was.value(before.as_found, 0);
        r.reckoned = solver.reckoned(n, answer);
        r.after = n.value(after, answer.levels.stop);
        r.shown_before = was.for_people(r.before.value);
        r.shown_after = n.for_people(r.after.value);
        r.reached = n.reached(r.after);
        r.cannot_tell = n.cannot_tell(r.after);
        if (!r.reached) r.limit = solver.limit(n, answer);
        b.all_reached = b.all_reached && r.reached;
        b.cannot_tell = b.cannot_tell || r.cannot_tell;
        const auto lack =
            r.reached || !solver.lacks_a_lamp(n, answer) ? std::nullopt : lack_of(as_found, n, r.after.value);
        const auto looked_for = [&](const MissingLamp& m) {
            return m.job == lack->job && m.person == as_found.rig.marks[lack->mark].name;
        };
        if (kit && lack && std::none_of(b.missing.begin(), b.missing.end(), looked_for) && !effort.stopped())
            b.missing.push_back(lamp_for_target(as_set(as_found, b), *lack, i, *kit, others, effort, cache));
        b.targets.push_back(std::move(r));
    }
    b.with_those = with_missing(as_found, b, others, effort, cache);
    if (b.nd > 0)
        b.remarks.emplace_back(
            "Gel taped to glass in the sun can crack it by heat; ask the owner, and leave air behind it.");
    say_what_is_dim(b);
    say_loads(b, setup, lamps, solver.loads(), answer.levels.levels);
    if (found.cut_short || after.cut_short)
        b.remarks.emplace_back("Stopped before the wanted error was reached; the errors shown are those reached.");
    b.remarks.emplace_back(
        "Levels are light, as in the file, not dial settings: few heads dim in proportion to their dial.");
    b.seconds = clock.seconds();
    return b;
}

}  // namespace rushlight
