#include "results/balance.h"

#include "quantity/colour.h"
#include "quantity/exposure.h"
#include "results/level_solver.h"
#include "results/target_numbers.h"
#include "setup/catalogues.h"
#include "setup/where.h"
#include "setup/words.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace rushlight {

namespace {

// Common practice, no source: the lowest that most heads hold without flicker.
constexpr double lowest_level = 0.01;
// Sheets as they are sold; the first costs nothing.
constexpr std::array<double, 5> nd_sheets{0, 0.3, 0.6, 0.9, 1.2};
// A gel has to earn its place: what it must take off the sum of squares.
constexpr double worth_a_gel = 0.05;

bool outside(const Place& place, const Vec3& p) {
    return p.x < place.lower.x || p.y < place.lower.y || p.z < place.lower.z || p.x > place.upper.x ||
           p.y > place.upper.y || p.z > place.upper.z;
}

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

/// What may be put on: one gel a lamp (by number; -1: none), one ND on all windows.
struct Filters {
    std::vector<int> gel;
    double nd = 0;
};

class Solver {
public:
    /// `found` was measured in `traced`, whose lamps that may change all burn.
    Solver(const Setup& traced, const std::vector<std::string>& sources, const std::vector<std::size_t>& lamps,
           const TargetNumbers& numbers, const MeterResults& found, std::pair<double, double> stop)
        : traced_(traced), sources_(sources), lamps_(lamps), numbers_(numbers), found_(found), stop_(stop) {}

    struct Answer {
        Filters filters;
        LevelAnswer levels;
        double cost = INFINITY;
        bool all_met = false;
    };

    Answer solve(bool gels, bool nd) const {
        Answer best;
        for (const double sheet : nd_sheets) {
            if (sheet > 0 && !nd) break;
            Answer a = with_gels({std::vector<int>(lamps_.size(), -1), sheet}, gels);
            if (a.cost < best.cost - worth_a_gel) best = std::move(a);
            if (best.all_met) break;  // the thinnest that serves
        }
        return best;
    }

    double reckoned(const TargetNumber& n, const Answer& a) const {
        if (n.colour) return mired_at(n, a);
        return level_target(n, a.filters).value(a.levels.levels, a.levels.stop);
    }

    /// What keeps a target from being reached.
    std::string limit(const TargetNumber& n, const Answer& a) const {
        if (n.colour) return "no level and no gel that may change brings this colour";
        const LevelTarget t = level_target(n, a.filters);
        const double off = t.off(a.levels.levels, a.levels.stop);
        std::string at_limit;
        const auto say = [&](const std::string& what) { at_limit += (at_limit.empty() ? "" : "; ") + what; };
        double helps_at_all = 0;
        for (std::size_t i = 0; i < lamps_.size(); ++i) {
            std::vector<double> more = a.levels.levels;
            more[i] *= 1.05;
            const double slope =
                (t.value(more, a.levels.stop) - t.value(a.levels.levels, a.levels.stop)) / std::log2(1.05);
            const double helps = -slope * (off > 0 ? 1 : -1);
            helps_at_all = std::max(helps_at_all, std::abs(helps));
            if (helps > 0.02 && a.levels.levels[i] > 0.995) say(in_quotes(name(i)) + " is at full");
            if (helps < -0.02 && a.levels.levels[i] < lowest_level * 1.01)
                say(in_quotes(name(i)) + " is at its lowest");
        }
        if (t.by_stop != 0 && stop_.second > stop_.first)
            for (const auto& [end, word] : {std::pair{stop_.first, "widest"}, std::pair{stop_.second, "smallest"}})
                if (std::abs(a.levels.stop - end) < 1e-3) say(std::string("the stop is the ") + word + " allowed");
        if (!at_limit.empty()) return at_limit;
        if (helps_at_all < 0.1) return "most of this light comes from what may not change: " + largest_fixed(n);
        return "the targets pull against each other";
    }

    const std::string& name(std::size_t i) const { return traced_.rig.lamps[lamps_[i]].name; }

    Spectrum gel_share(std::size_t i, int gel) const {
        if (gel < 0) return Spectrum{1.0F};
        const Lamp& l = traced_.rig.lamps[lamps_[i]];
        double kelvin =
            std::clamp(colour_temperature(tristimulus(l.intensity_or_flux * l.gel)).cct.value, 1000.0, 25000.0);
        const GelKind& kind = gel_kinds()[static_cast<std::size_t>(gel)];
        return gel_before(kelvin, kind).value_or(Spectrum{0.0F});
    }

private:
    Answer with_gels(Filters filters, bool gels) const {
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

    Answer at(const Filters& filters) const {
        LevelProblem p;
        for (const std::size_t i : lamps_) {
            p.now.push_back(traced_.rig.lamps[i].level);
            p.least.push_back(lowest_level);
            p.most.push_back(1);
        }
        p.stop_least = stop_.first;
        p.stop_most = stop_.second;
        for (const TargetNumber& n : numbers_.all())
            if (!n.colour) p.targets.push_back(level_target(n, filters));
        Answer a{filters, solve_levels(p), 0, true};
        for (const TargetNumber& n : numbers_.all()) {
            double off = reckoned(n, a) - n.wanted;
            if ((n.side == Want::Side::at_least && off > 0) || (n.side == Want::Side::at_most && off < 0)) off = 0;
            a.cost += off * off / (n.within * n.within);
            a.all_met = a.all_met && std::abs(off) <= 0.51 * n.within;
        }
        return a;
    }

    /// What ND on the windows leaves of a source.
    double through_nd(std::size_t source, double nd) const {
        const auto& lamps = traced_.rig.lamps;
        const auto lamp =
            std::find_if(lamps.begin(), lamps.end(), [&](const Lamp& l) { return l.name == sources_[source]; });
        return lamp != lamps.end() && !outside(traced_.place, lamp->at) ? 1.0 : std::pow(10.0, -nd);
    }
    /// Number of a source's lamp among those that may change, or -1.
    int lamp_of(std::size_t source) const {
        for (std::size_t i = 0; i < lamps_.size(); ++i)
            if (name(i) == sources_[source]) return static_cast<int>(i);
        return -1;
    }

    LevelTarget level_target(const TargetNumber& n, const Filters& filters) const {
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
    void add(const std::vector<std::size_t>& meters, const Filters& filters, std::vector<double>& by_level,
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
    double mired_at(const TargetNumber& n, const Answer& a) const {
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
    std::string largest_fixed(const TargetNumber& n) const {
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

    const Setup& traced_;
    const std::vector<std::string>& sources_;
    const std::vector<std::size_t>& lamps_;
    const TargetNumbers& numbers_;
    const MeterResults& found_;
    std::pair<double, double> stop_;
};

}  // namespace

Setup as_set(const Setup& setup, const Balance& b) {
    Setup s = setup;
    for (const LampSetting& set : b.lamps)
        for (Lamp& l : s.rig.lamps) {
            if (l.name != set.lamp) continue;
            l.on = set.after > 0;
            l.level = set.after;
            if (const GelKind* kind = kind_named(gel_kinds(), set.gel)) {
                double kelvin =
                    std::clamp(colour_temperature(tristimulus(l.intensity_or_flux * l.gel)).cct.value, 1000.0, 25000.0);
                l.gel *= gel_before(kelvin, *kind).value_or(Spectrum{1.0F});
            }
        }
    for (Opening& o : s.place.room.openings) o.nd_density += b.nd;
    for (OpeningPatch& o : s.place.model_openings) o.nd_density += b.nd;
    if (s.camera >= 0) s.rig.cameras[static_cast<std::size_t>(s.camera)].exposure.t_stop = b.stop_after;
    return s;
}

Balance balance(const Setup& setup, const std::vector<Sheet>& others, const Effort& effort, const LayerCache& cache) {
    const Clock clock;
    Balance b;
    b.title = setup.title;
    b.setup = setup.name;
    b.option = setup.option;
    const std::vector<std::size_t> lamps = may_change(setup);

    Setup traced = setup;  // every lamp that may change burns
    for (const std::size_t i : lamps) {
        Lamp& l = traced.rig.lamps[i];
        if (!l.burning().dark()) continue;
        l.on = true;
        l.level = 1;
    }
    const Scene scene = build_scene(traced);
    TargetNumbers numbers(setup, scene);
    KeptLight light(traced, traced, cache);
    const MeterResults found = light.measure(scene, numbers.meters(), effort, numbers.wanted());
    if (found.batches() == 0) throw InputError("there is no light in set-up " + in_quotes(setup.name) + " to balance");
    // As found: lamps that were off give nothing.
    std::vector<Spectrum> as_found;
    for (const std::string& source : scene.lights.sources()) {
        const auto lamp = std::find_if(setup.rig.lamps.begin(), setup.rig.lamps.end(),
                                       [&](const Lamp& l) { return l.name == source; });
        as_found.emplace_back(lamp != setup.rig.lamps.end() && lamp->burning().dark() ? 0.0F : 1.0F);
    }
    const MeterResults before = found.relit(as_found);
    numbers.settle(before, others);

    std::pair<double, double> stop{0, 0};
    const double base_stop = stop_of_targets(setup);
    if (setup.camera >= 0) {
        b.stop_before = setup.its_camera()->exposure.t_stop;
        b.stop_after = base_stop;
        if (setup.balance.stop)
            stop = {2 * std::log2(setup.balance.stop->first / base_stop),
                    2 * std::log2(setup.balance.stop->second / base_stop)};
    }
    const Solver first(traced, scene.lights.sources(), lamps, numbers, found, stop);
    Solver::Answer answer = first.solve(setup.balance.gels, setup.balance.nd);
    b.nd = answer.filters.nd;
    // ND takes more at a slant than straight on: with the sheets put in, the levels are found once more.
    MeterResults behind_nd = found;
    if (b.nd > 0) {
        for (Opening& o : traced.place.room.openings) o.nd_density += b.nd;
        for (OpeningPatch& o : traced.place.model_openings) o.nd_density += b.nd;
        KeptLight dimmed(traced, traced, cache);
        behind_nd = dimmed.measure(build_scene(traced), numbers.meters(), effort, numbers.wanted());
    }
    const Solver solver(traced, scene.lights.sources(), lamps, numbers, behind_nd, stop);
    if (b.nd > 0) answer = solver.solve(setup.balance.gels, false);
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
    const Setup set = as_set(setup, b);
    const Scene set_scene = build_scene(set);
    const MeterResults after = measure(set_scene, numbers.meters(), proof, numbers.wanted());
    b.all_reached = true;
    for (const TargetNumber& n : numbers.all()) {
        TargetResult r;
        r.name = n.name;
        r.want = n.want;
        r.colour = n.colour;
        r.wanted = n.wanted;
        r.within = n.within;
        r.before = n.value(before, 0);
        r.reckoned = solver.reckoned(n, answer);
        r.after = n.value(after, answer.levels.stop);
        r.shown_before = n.for_people(r.before.value);
        r.shown_after = n.for_people(r.after.value);
        double off = r.after.value - n.wanted;
        if ((n.side == Want::Side::at_least && off > 0) || (n.side == Want::Side::at_most && off < 0)) off = 0;
        r.reached = std::abs(off) <= n.within + 2 * r.after.error;
        if (!r.reached) r.limit = solver.limit(n, answer);
        b.all_reached = b.all_reached && r.reached;
        b.targets.push_back(std::move(r));
    }
    if (b.nd > 0)
        b.remarks.emplace_back(
            "Gel taped to glass in the sun can crack it by heat; ask the owner, and leave air behind it.");
    if (found.cut_short || after.cut_short)
        b.remarks.emplace_back("Stopped before the wanted error was reached; the errors shown are those reached.");
    b.remarks.emplace_back(
        "Watts and circuits are not looked at here; dimmers are taken to count light, as levels in the file do.");
    b.seconds = clock.seconds();
    return b;
}

}  // namespace rushlight
