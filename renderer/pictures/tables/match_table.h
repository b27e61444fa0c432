// How well two sides match, as text and as JSON.
#pragma once

#include "results/compare/match.h"

#include <string>

namespace rushlight {

std::string table(const Match& match);
std::string json(const Match& match);

}  // namespace rushlight
