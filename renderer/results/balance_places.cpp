#include "results/balance_places.h"

#include "setup/where.h"
#include "setup/whereabouts.h"
#include "setup/words.h"

#include <algorithm>
#include <cmath>
#include <optional>

namespace rushlight {

namespace {

constexpr double near_enough = 0.05;  // m
constexpr int rounds = 2;

/// Where a thing is, its direction, and the point that this was given by.
struct Standing {
    Vec3* at;
    Vec3* direction;
    std::optional<Vec3> toward;
};

Standing standing(Setup& setup, const BalanceMove& move) {
    std::vector<std::string> names;
    for (Lamp& l : setup.rig.lamps) {
        if (l.name == move.thing) return {&l.at, &l.aim, l.aimed_at};
        names.push_back(l.name);
    }
    for (Panel& p : setup.rig.panels) {
        if (p.name == move.thing) return {&p.at, &p.facing, p.faces};
        names.push_back(p.name);
    }
    throw InputError(move.where, "[[balance.move]]: no lamp or panel " + in_quotes(move.thing) + " in set-up " +
                                     in_quotes(setup.name) + hint(move.thing, names));
}

bool may_stand(const Setup& setup) {
    Setup s = setup;
    for (const BalanceMove& m : s.balance.moves) {
        const Vec3 at = *standing(s, m).at;
        if (in_wall(s.place, at) || box_around(s.place, at) != nullptr) return false;
    }
    return true;
}

}  // namespace

Setup moved(const Setup& setup, const std::vector<double>& shares) {
    Setup s = setup;
    for (std::size_t i = 0; i < shares.size(); ++i) {
        const BalanceMove& move = s.balance.moves[i];
        const Standing thing = standing(s, move);
        *thing.at += (move.to - *thing.at) * static_cast<float>(shares[i]);
        if (!thing.toward) continue;
        const Vec3 way = *thing.toward - *thing.at;
        if (way.length() > 1e-3F) *thing.direction = way.normalized();
    }
    return s;
}

std::vector<double> lengths_of_moves(const Setup& setup) {
    Setup s = setup;
    std::vector<double> lengths;
    for (const BalanceMove& m : setup.balance.moves)
        lengths.push_back(static_cast<double>((m.to - *standing(s, m).at).length()));
    return lengths;
}

std::vector<double> best_shares(const Setup& setup, const std::function<double(const Setup&, double)>& cost) {
    const std::vector<double> lengths = lengths_of_moves(setup);
    std::vector<double> best(lengths.size(), 0.0);
    double least = INFINITY;
    const auto consider = [&](const std::vector<double>& shares) {
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
                if (shares != best) consider(shares);
            };
            for (const double share : {0.0, 0.25, 0.5, 0.75, 1.0}) at_share(share);
            for (double step = 0.125; step * lengths[i] > near_enough / 2; step /= 2) {
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
