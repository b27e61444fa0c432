// Remarks that a careful assistant would make about a set-up before anything is carried in. Nothing here is an error.
#pragma once

#include "setup/plain/setup.h"

#include <string>
#include <vector>

namespace rushlight {

/// Sentences, most pressing first, no more than twenty or so about one kind of thing; the cautions about heat, weight
/// and mains come last.
std::vector<std::string> careful_remarks(const Setup& setup);

/// Ends every report that shows lamps or panels.
inline constexpr const char* planning_caution =
    "Estimate for planning light. Not an electrical, structural or rigging assessment.";

}  // namespace rushlight
