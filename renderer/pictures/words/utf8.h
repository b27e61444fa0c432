// Names are typed by people in any script; files and pictures need them whole, aligned or in plain letters.
#pragma once

#include "setup/text/code_points.h"

#include <string>
#include <string_view>

namespace rushlight {

/// Columns that `text` takes in a fixed-width listing: 0 for combining marks, 2 for wide East Asian signs.
int columns(std::string_view text);

/// `text` cut to at most `width` columns, the last one an ellipsis when something was cut.
std::string cut_to(std::string_view text, int width);
/// At most `most` bytes of it, cut between letters: no accent, joiner or byte of a letter is left behind or without its
/// own.
std::string first_bytes(std::string_view text, std::size_t most);
/// Filled with spaces up to `width` columns, at the right or at the left.
std::string padded(std::string_view text, int width);
std::string padded_left(std::string_view text, int width);

/// The unaccented letter for a Latin one (e with acute gives e), the character itself when it is ASCII, and
/// 0 when nothing near is known.
char plain_letter(char32_t c);

}  // namespace rushlight
