// What a balance found, as lines of a set-up file: an option with the levels, gels, stop and places that it says.
#pragma once

#include "results/balance/balance.h"

#include <string>

namespace rushlight {

/// TOML, for the end of a file whose set-up is `in_file`; for one of its options, what that option is to say instead.
/// Empty where nothing differs. `of_setup`: offered for this set-up alone, as a file with several needs it.
std::string option_lines(const Setup& in_file, const Balance& balance, const std::string& name, bool of_setup);

}  // namespace rushlight
