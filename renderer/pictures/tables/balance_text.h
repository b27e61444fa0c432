// Solved levels, the targets they reach and those they cannot, as a listing for people and as JSON.
#pragma once

#include "results/balance/balance.h"

#include <string>

namespace rushlight {

/// `lines`: what option_lines() gives; empty: none are shown.
std::string text(const Balance& balance, const std::string& lines = "");
/// A lamp by itself: where it would stand, and what it would bring.
std::string text(const MissingLamp& missing);
/// {title, setup, option, lamps: [{lamp, before, after, gel}], nd, stop_before, stop, targets: [{reading, want, within,
/// before, after, error, reckoned, wanted, reached, limit}], missing: [{job, person, trouble, lamp, like, at, aim,
/// level, distance, on_arm, flag_it_off_the_lens, brings_it, targets: [{reading, want, said, met}]}], lines,
/// all_reached, remarks, seconds}; numbers of a target in stops (a reading: log2 lux), of a colour in mired.
std::string json(const Balance& balance, const std::string& lines = "");

}  // namespace rushlight
