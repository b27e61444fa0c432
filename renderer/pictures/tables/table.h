// A sheet as a listing for people, and as values with commas between for a spreadsheet.
#pragma once

#include "results/sheet/sheet.h"

#include <string>

namespace rushlight {

/// Aligned text in UTF-8 for a fixed-width font, no line over 100 columns.
std::string table(const Sheet& sheet);

/// One row a reading, ratio or separation, one column a quantity with its unit in the name (RFC 4180).
/// A cell is empty where there is nothing to say.
std::string comma_separated(const Sheet& sheet);

}  // namespace rushlight
