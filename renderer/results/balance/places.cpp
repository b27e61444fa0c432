#include "results/balance/places.h"

#include "setup/plain/whereabouts.h"
#include "setup/text/where.h"
#include "setup/text/words.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <set>

namespace rushlight {

namespace {

constexpr double least_step = 0.05;  // m
constexpr int rounds = 2;

/// The place of a thing, its direction, and the point that gave the direction. `setup` may be const or not.
template <class AnySetup>
auto movable_thing(AnySetup& setup, const BalanceMove& move) {
    struct MovableThing {
        decltype(&setup.rig.lamps.front().at) at, direction;
        std::optional<Vec3> toward;
    };
    std::vector<std::string> names;
    for (auto& l : setup.rig.lamps) {
        if (l.name == move.thing) return MovableThing{&l.at, &l.aim, l.aimed_at};
        names.push_back(l.name);
    }
    for (auto& p : setup.rig.panels) {
        if (p.name == move.thing) return MovableThing{&p.at, &p.facing, p.faces};
        names.push_back(p.name);
    }
    throw InputError(move.where, "[[balance.move]]: no lamp or panel " + in_quotes(move.thing) + " in set-up " +
                                     in_quotes(setup.name) + hint(move.thing, names));
}

bool may_stand(const Setup& setup) {
    const auto in_something = [&](const BalanceMove& m) {
        const Vec3 at = place_of(setup, m);
        return in_wall(setup.place, at) || box_around(setup.place, at) != nullptr;
    };
    return std::none_of(setup.balance.moves.begin(), setup.balance.moves.end(), in_something);
}

}  // namespace

Vec3 place_of(const Setup& setup, const BalanceMove& move) {
    return *movable_thing(setup, move).at;
}

Setup moved(const Setup& setup, const std::vector<double>& shares) {
    Setup s = setup;
    for (std::size_t i = 0; i < shares.size(); ++i) {
        const BalanceMove& move = s.balance.moves[i];
        const auto thing = movable_thing(s, move);
        *thing.at += (move.to - *thing.at) * static_cast<float>(shares[i]);
        if (!thing.toward) continue;
        const Vec3 way = *thing.toward - *thing.at;
        if (way.length() > 1e-3F) *thing.direction = way.normalized();
    }
    return s;
}

std::vector<double> best_shares(const Setup& setup, const std::function<double(const Setup&, double)>& cost) {
    std::vector<double> lengths;  // m, of the whole way
    for (const BalanceMove& m : setup.balance.moves)
        lengths.push_back(static_cast<double>((m.to - place_of(setup, m)).length()));
    std::vector<double> best(lengths.size(), 0.0);
    double least = INFINITY;
    std::set<std::vector<double>> tried;
    const auto consider = [&](const std::vector<double>& shares) {
        if (!tried.insert(shares).second) return;
        const Setup there = moved(setup, shares);
        if (!may_stand(there)) return;
        double metres = 0;
        for (std::size_t i = 0; i < shares.size(); ++i) metres += shares[i] * lengths[i];
        const double now = cost(there, metres);
        if (!(now < least)) return;
        least = now;
        best = shares;
    };
    consider(best);
    for (int round = 0; round < rounds; ++round) {
        const std::vector<double> before = best;
        for (std::size_t i = 0; i < best.size(); ++i) {
            const auto at_share = [&](double share) {
                std::vector<double> shares = best;
                shares[i] = std::clamp(share, 0.0, 1.0);
                consider(shares);
            };
            for (const double share : {0.0, 0.25, 0.5, 0.75, 1.0}) at_share(share);
            for (double step = 0.125; step * lengths[i] > least_step / 2; step /= 2) {
                const double middle = best[i];
                at_share(middle - step);
                at_share(middle + step);
            }
        }
        if (best == before) break;
    }
    return best;
}

}  // namespace rushlight
