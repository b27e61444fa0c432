// Solved levels, the targets they reach and those they cannot, as a listing for people and as JSON.
#pragma once

#include "results/balance/balance.h"

#include <string>

namespace rushlight {

std::string text(const Balance& balance);
/// {title, setup, option, lamps: [{lamp, before, after, gel}], nd, stop_before, stop, targets: [{reading, want, within,
/// before, after, error, reckoned, wanted, reached, limit}], all_reached, remarks, seconds}; numbers of a target in
/// stops (a reading: log2 lux), of a colour in mired.
std::string json(const Balance& balance);

}  // namespace rushlight
