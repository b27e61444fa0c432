// Several set-ups of one conversation: do they keep to one side of the line?
#pragma once

#include "setup/plain/setup.h"

#include <string>
#include <vector>

namespace rushlight {

/// A sentence for every set-up whose camera stands on the other side of the line of action than that of the first
/// set-up which has a side. Cameras within 10 cm of the line are on no side. Each set-up's own marks count, so
/// that people may be moved between set-ups.
std::vector<std::string> crossed_line_remarks(const std::vector<Setup>& setups);

}  // namespace rushlight
