// The readings of each person and of the lens as text, under the light meters' table.
#pragma once

#include "results/sheet/sheet.h"

#include <string>

namespace rushlight {

/// A block a person who is in the picture, one for the camera; empty where the sheet has none.
std::string people_table(const Sheet& sheet);

}  // namespace rushlight
