// Levels, gels, ISO and stop tried on a set-up after the file was read: what if the key were a stop down?
#pragma once

#include "setup/plain/setup.h"

#include <optional>
#include <string>
#include <vector>

namespace rushlight {

struct WhatIf {
    std::vector<std::string> levels;  // "NAME=50%", "NAME=-1 stop", "NAME=off", "NAME=on"
    std::vector<std::string> gels;    // "NAME=half orange", "NAME=half orange + nd 0.3", "NAME=none"
    std::optional<double> iso, t_stop;

    bool empty() const { return levels.empty() && gels.empty() && !iso && !t_stop; }
};

/// The set-up as asked. Throws InputError, with the nearest word, for a lamp that is not there, a level over full, a
/// gel that is not known.
Setup with(const WhatIf& what_if, Setup setup);

/// The set-up to be traced for `asked`: as the file has it, so that its layers serve every further question; lamps
/// that the file leaves off and that are asked for burn at full.
Setup to_trace(const Setup& as_in_file, const Setup& asked);

}  // namespace rushlight
