// Which rough input moves which reading, as a listing for people.
#pragma once

#include "results/compare/doubt.h"

#include <string>

namespace rushlight {

std::string text(const Doubts& doubts);

}  // namespace rushlight
