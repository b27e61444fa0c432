// A brief for other programs: always in SI units and with every department's part.
#pragma once

#include "results/brief/brief.h"

#include <string>
#include <vector>

namespace rushlight {

/// {made_by: "rushlight brief", files, title, setups: [{setup, planned, minutes, needs, notes, targets, kit, circuits,
/// lamps, panels, day, options: [a sheet as `read --json` gives it]}], orders, kit, to_measure, matches, cautions,
/// remarks, seconds}.
std::string brief_json(const Brief& brief, const std::vector<std::string>& files);

/// The files that such a JSON says were written with it; none where it is something else.
std::vector<std::string> files_of_brief(const std::string& json);

/// One number a row (RFC 4180): set-up, option, what, name, value, unit, error, words.
std::string brief_csv(const Brief& brief);

}  // namespace rushlight
