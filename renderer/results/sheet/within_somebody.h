// Meters that were put inside a person by a slip: nothing reaches them.
#pragma once

#include "setup/plain/setup.h"

#include <string>
#include <vector>

namespace rushlight {

/// A sentence for each, which names both. People are built only where a meter is near enough to one.
std::vector<std::string> meters_within_somebody(const Setup& setup);

}  // namespace rushlight
