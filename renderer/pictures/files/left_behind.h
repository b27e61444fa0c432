// What processes left in a folder when they were killed while they wrote there.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace rushlight {

/// Finishes what was decided (see write_together()) and removes what was not: unfinished files and folders that no
/// living process holds. What belongs to somebody else, or is locked, stays; failures are no errors.
void settle_what_was_left(const std::filesystem::path& folder);

/// What a decision says: that each of `beside` is to become the one of `places`, all in one folder.
std::string decision_text(const std::vector<std::filesystem::path>& beside,
                          const std::vector<std::filesystem::path>& places);

}  // namespace rushlight
