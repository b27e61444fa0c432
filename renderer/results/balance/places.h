// Where `balance` may put lamps and panels, and a search among those places.
#pragma once

#include "setup/plain/setup.h"

#include <functional>
#include <vector>

namespace rushlight {

/// The set-up with the things of its [[balance.move]] put that share of the way (0..1), each aimed at what it was aimed
/// at. Throws InputError for a thing that is not there.
Setup moved(const Setup& setup, const std::vector<double>& shares);

/// Where the thing of a move stands in this set-up.
Vec3 place_of(const Setup& setup, const BalanceMove& move);

/// The shares at which `cost` is least: one move after the other, first at five places of its line, then nearer and
/// nearer to 5 cm, twice over. Places in walls and furniture are not tried.
std::vector<double> best_shares(const Setup& setup, const std::function<double(const Setup&, double metres)>& cost);

}  // namespace rushlight
