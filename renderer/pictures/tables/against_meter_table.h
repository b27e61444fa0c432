// Traced readings beside a meter's, as text.
#pragma once

#include "results/compare/against_meter.h"

#include <string>

namespace rushlight {

std::string table(const AgainstMeter& against);

}  // namespace rushlight
