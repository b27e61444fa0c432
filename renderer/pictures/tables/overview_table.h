// All set-ups of a file on one page: a row each.
#pragma once

#include "results/compare/match.h"
#include "results/sheet/sheet.h"

#include <string>
#include <vector>

namespace rushlight {

/// The person each camera is about: stop on the key cheek, key to fill, hair over background, background against the
/// key cheek, light in the eye; whether the windows hold, and what of the rig is in shot. Under it the pairs that are
/// two sides of a conversation, a line each.
std::string overview(const std::vector<Sheet>& sheets, const std::vector<Match>& matches);

}  // namespace rushlight
