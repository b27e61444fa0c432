#include "results/day/shooting_order.h"

#include "quantity/clock.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace rushlight {

namespace {

constexpr std::size_t most_exact = 12, most_states = 30'000'000;  // which take 150 MB
// The cost of a minute, or of an event.
constexpr double without_people = 1000, after_the_end = 300, outside_window = 10, waiting = 1;
constexpr double later_call = 0.02;  // before the first set-up nobody waits: all else alike, the day begins early
constexpr double turn_around = 60;   // as much as six minutes outside a window
// Cost for each minute by which a set-up of the same side that still waits is heavier; before the first, one of any
// side.
constexpr double lighter_first = 0.3, not_the_heaviest = 1;
constexpr double later = 0.001;  // all else alike, sooner

double overlap(const Interval& a, const Interval& b) {
    return std::max(0.0, std::min(a.to, b.to) - std::max(a.from, b.from));
}

double minutes_outside(const ToShoot& s, const Interval& when) {
    if (s.any_hour) return 0;
    double in = 0;
    for (const Interval& hold : s.holds) in += overlap(hold, when);
    return std::max(0.0, (when.length() - in) * 60);
}

/// Minutes outside, each counted by how far off the light is then: at least half, four at most.
double weighed_outside(const ToShoot& s, const Interval& when) {
    if (s.clock.size() < 2) return minutes_outside(s, when);
    double sum = 0;
    constexpr double tick = 1.0 / 12;
    for (double at = when.from; at < when.to - 1e-9; at += tick) {
        const Interval piece{at, std::min(at + tick, when.to)};
        const double middle = (piece.from + piece.to) / 2;
        const auto next = std::upper_bound(s.clock.begin(), s.clock.end(), middle);
        const auto i = static_cast<std::size_t>(
            std::clamp<std::ptrdiff_t>(next - s.clock.begin(), 1, static_cast<std::ptrdiff_t>(s.clock.size()) - 1));
        const double share = std::clamp((middle - s.clock[i - 1]) / (s.clock[i] - s.clock[i - 1]), 0.0, 1.0);
        const double off = s.off[i - 1] + share * (s.off[i] - s.off[i - 1]);
        sum += minutes_outside(s, piece) * std::clamp(off - 0.5, 0.5, 4.0);
    }
    return sum;
}

double minutes_without(const ToShoot& s, const Interval& when) {
    return std::max(0.0, (when.length() - overlap({s.free_from, s.free_until}, when)) * 60);
}

bool turns(const ToShoot& a, const ToShoot& b) {
    return a.looks.dot(b.looks) < 0;
}

class Search {
public:
    Search(const std::vector<ToShoot>& setups, double from, double to) : setups_(setups), from_(from), to_(to) {
        double all = 0;
        for (const ToShoot& s : setups) all += static_cast<double>(ticks_of(s)) * tick_;
        last_tick_ = static_cast<std::size_t>(std::ceil((std::max(to - from, 0.0) + all) / tick_)) + 1;
    }

    /// States of the search (the set-ups shot, the last of them, and the time) take five bytes each.
    std::size_t states() const { return (std::size_t{1} << setups_.size()) * setups_.size() * last_tick_; }

    std::vector<Shot> best() {
        const std::size_t n = setups_.size();
        const std::size_t subsets = std::size_t{1} << n;
        by_start_.assign(n * last_tick_, 0.0F);
        for (std::size_t s = 0; s < n; ++s)
            for (std::size_t t = 0; t < last_tick_; ++t)
                by_start_[s * last_tick_ + t] = static_cast<float>(cost_of_start(s, t));
        cost_.assign(states(), std::numeric_limits<float>::infinity());
        came_.assign(states(), came_by_waiting);
        // The day begins with the first minute; set-ups that begin later have waited.
        for (std::size_t s = 0; s < n; ++s)
            for (std::size_t t = 0; t + ticks_of(setups_[s]) < last_tick_; ++t)
                offer(state(bit(s), s, t + ticks_of(setups_[s])),
                      static_cast<double>(t) * tick_ * 60 * later_call + cost_of(s, 0, n, t), came_first);
        for (std::size_t done = 1; done < subsets; ++done)
            for (std::size_t last = 0; last < n; ++last) {
                if ((done & bit(last)) == 0) continue;
                for (std::size_t t = 0; t < last_tick_; ++t) {
                    const double so_far = static_cast<double>(cost_[state(done, last, t)]);
                    if (!std::isfinite(so_far)) continue;
                    if (t + 1 < last_tick_)
                        offer(state(done, last, t + 1), so_far + tick_ * 60 * waiting, came_by_waiting);
                    for (std::size_t s = 0; s < n; ++s) {
                        const std::size_t end = t + ticks_of(setups_[s]);
                        if ((done & bit(s)) != 0 || end >= last_tick_) continue;
                        offer(state(done | bit(s), s, end), so_far + cost_of(s, done, last, t),
                              static_cast<std::uint8_t>(last));
                    }
                }
            }
        return walk_back(subsets - 1);
    }

private:
    static constexpr std::uint8_t came_by_waiting = 254, came_first = 255;
    static std::size_t bit(std::size_t s) { return std::size_t{1} << s; }
    std::size_t ticks_of(const ToShoot& s) const {
        return std::max<std::size_t>(1, static_cast<std::size_t>(std::ceil(s.minutes / 60 / tick_ - 1e-6)));
    }
    std::size_t state(std::size_t done, std::size_t last, std::size_t t) const {
        return (done * setups_.size() + last) * last_tick_ + t;
    }
    void offer(std::size_t at, double cost, std::uint8_t came) {
        if (cost >= static_cast<double>(cost_[at])) return;
        cost_[at] = static_cast<float>(cost);
        came_[at] = came;
    }
    Interval at(std::size_t s, std::size_t t) const {
        const double start = from_ + static_cast<double>(t) * tick_;
        return {start, start + setups_[s].minutes / 60};
    }
    double cost_of_start(std::size_t s, std::size_t t) const {
        const Interval when = at(s, t);
        return later * static_cast<double>(t) + outside_window * weighed_outside(setups_[s], when) +
               without_people * minutes_without(setups_[s], when) +
               after_the_end * std::max(0.0, std::min(when.length(), when.to - to_) * 60);
    }
    double cost_of(std::size_t s, std::size_t done, std::size_t last, std::size_t t) const {
        double cost = static_cast<double>(by_start_[s * last_tick_ + t]);
        if (last < setups_.size() && turns(setups_[s], setups_[last])) cost += turn_around;
        for (std::size_t other = 0; other < setups_.size(); ++other) {
            const double heavier = setups_[other].minutes - setups_[s].minutes;
            if ((done & bit(other)) != 0 || heavier <= 0) continue;
            if (!turns(setups_[s], setups_[other])) cost += lighter_first * heavier;
            if (done == 0) cost += not_the_heaviest * heavier;
        }
        return cost;
    }
    std::vector<Shot> walk_back(std::size_t done) const {
        const std::size_t n = setups_.size();
        std::size_t last = 0, t = 0;
        float least = std::numeric_limits<float>::infinity();
        for (std::size_t s = 0; s < n; ++s)
            for (std::size_t k = 0; k < last_tick_; ++k)
                if (cost_[state(done, s, k)] < least) {
                    least = cost_[state(done, s, k)];
                    last = s;
                    t = k;
                }
        std::vector<Shot> shots;
        while (done != 0) {
            const std::uint8_t came = came_[state(done, last, t)];
            if (came == came_by_waiting) {
                --t;
                continue;
            }
            t -= ticks_of(setups_[last]);
            const Interval when = at(last, t);
            Shot shot;
            shot.number = last;
            shot.name = setups_[last].name;
            shot.from = when.from;
            shot.to = when.to;
            shots.push_back(shot);
            done &= ~bit(last);
            last = came;
        }
        std::reverse(shots.begin(), shots.end());
        return shots;
    }

    const std::vector<ToShoot>& setups_;
    double from_, to_;
    static constexpr double tick_ = 1.0 / 12;  // five minutes
    std::size_t last_tick_ = 0;
    std::vector<float> cost_, by_start_;
    std::vector<std::uint8_t> came_;
};

/// What its light says about its place in the order.
std::string light_reason(const ToShoot& s, const Shot& shot, double end_of_all) {
    if (s.any_hour) return "needs no daylight";
    if (shot.outside > 0.5)
        return std::to_string(std::lround(shot.outside)) + " of its " + std::to_string(std::lround(s.minutes)) +
               " min outside its sun window: no order does better";
    constexpr double at_once = 0.5;  // h
    for (const Interval& hold : s.holds) {
        if (hold.from > shot.from + 1e-6 || hold.to < shot.to - 1e-6) continue;
        // Shot last it would be too late, or begun first too early: then the light decides.
        if (hold.to < end_of_all - 1e-6) return "its light goes at " + clock_text(hold.to);
        if (shot.from - hold.from < at_once && hold.from > 0) return "its light comes at " + clock_text(hold.from);
        return "its light lasts until " + clock_text(hold.to);
    }
    return "";
}

/// Why a set-up has its place in the order: people, then what its light says, then the work of it.
std::string reason_for(const std::vector<ToShoot>& setups, const std::vector<Shot>& shots, std::size_t i) {
    const Shot& shot = shots[i];
    const ToShoot& s = setups[shot.number];
    std::vector<std::string> why;
    const double before = i > 0 ? shots[i - 1].to : shot.from;
    if (shot.without_people > 0.5) why.push_back(s.who + " is not there all the time: no order finds room for it");
    if (s.free_from > 0 && shot.from - before > 1.0 / 60 && shot.from < s.free_from + 0.1)
        why.push_back("waits for " + s.who + " until " + clock_text(s.free_from));
    else if (s.free_until < 24 && s.free_until < shots.back().to)
        why.push_back(s.who + " leaves at " + clock_text(s.free_until));
    const bool heaviest = std::none_of(shots.begin(), shots.end(), [&](const Shot& x) {
        return x.number != shot.number && setups[x.number].minutes >= s.minutes;
    });
    if (i == 0 && shots.size() > 1 && heaviest) why.emplace_back("the most work, so first");
    if (i > 0)
        why.push_back(turns(s, setups[shots[i - 1].number])
                          ? "turn-around: the other side now"
                          : "same side as “" + shots[i - 1].name + "”, little to move");
    if (const std::string light = light_reason(s, shot, shots.back().to); !light.empty()) why.push_back(light);
    std::string text;
    for (const std::string& w : why) text += (text.empty() ? "" : "; ") + w;
    return text;
}

}  // namespace

ToShoot to_shoot(const Setup& setup, const DayCourse* day, Weather weather) {
    ToShoot s;
    s.name = setup.name;
    s.minutes = setup.minutes;
    s.any_hour = day == nullptr;
    if (day != nullptr)
        for (const WeatherCourse& w : day->weathers)
            if (w.weather == weather) {
                s.holds = w.holds;
                s.clock = day->clock;
                s.off = w.off;
            }
    for (const Mark& m : setup.rig.marks) {
        if (std::find(setup.needs.begin(), setup.needs.end(), m.name) == setup.needs.end()) continue;
        if (m.person.free_from > s.free_from || m.person.free_until < s.free_until) s.who = m.name;
        s.free_from = std::max(s.free_from, m.person.free_from);
        s.free_until = std::min(s.free_until, m.person.free_until);
    }
    if (setup.camera >= 0) {
        const Camera& c = *setup.its_camera();
        s.looks = c.look_at - c.at;
        s.looks.z = 0;
    }
    return s;
}

ShootingOrder shooting_order(const std::vector<ToShoot>& setups, double from, double to, Weather weather) {
    ShootingOrder order;
    order.weather = weather;
    double start = from;
    // More than a day's worth is taken in lots, heaviest first.
    std::vector<std::size_t> heaviest(setups.size());
    for (std::size_t i = 0; i < setups.size(); ++i) heaviest[i] = i;
    std::stable_sort(heaviest.begin(), heaviest.end(),
                     [&](std::size_t a, std::size_t b) { return setups[a].minutes > setups[b].minutes; });
    for (std::size_t first = 0; first < heaviest.size();) {
        std::vector<ToShoot> lot;
        for (std::size_t i = first; i < heaviest.size() && lot.size() < most_exact; ++i) {
            lot.push_back(setups[heaviest[i]]);
            if (lot.size() > 1 && Search(lot, start, to).states() > most_states) {
                lot.pop_back();
                break;
            }
        }
        order.exact = order.exact && lot.size() == setups.size();
        for (Shot shot : Search(lot, start, to).best()) {
            shot.number = heaviest[first + shot.number];
            start = shot.to;
            order.shots.push_back(shot);
        }
        first += lot.size();
    }
    for (Shot& shot : order.shots) {
        const Interval when{shot.from, shot.to};
        shot.outside = minutes_outside(setups[shot.number], when);
        shot.without_people = minutes_without(setups[shot.number], when);
        order.outside += shot.outside;
    }
    for (std::size_t i = 0; i < order.shots.size(); ++i) order.shots[i].reason = reason_for(setups, order.shots, i);
    return order;
}

}  // namespace rushlight
