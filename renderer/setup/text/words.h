// Words that people type, compared with the words that are meant.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace rushlight {

/// ASCII letters made small, outer blanks dropped, inner runs of blanks made one.
std::string tidy(std::string_view text);

/// In single quotes on one line: control characters become '?', long text is cut.
std::string in_quotes(std::string_view text);

/// "'a', 'b' and 'c'"; of many, a dozen and how many more there are.
std::string in_a_list(const std::vector<std::string>& names);

/// As TOML has it between double quotes.
std::string in_toml_quotes(const std::string& text);

/// Insertions, deletions, replacements and swaps of neighbours between two words (optimal string alignment).
std::size_t word_distance(std::string_view a, std::string_view b);

/// "; did you mean 'x'?", or the list of `valid` words when none is near enough.
std::string hint(std::string_view found, const std::vector<std::string>& valid);

/// The parts of `text` between `separator`s.
std::vector<std::string> split(std::string_view text, char separator);

/// A number as people write it: up to six figures, no trailing zeros.
std::string plain(double value);

}  // namespace rushlight
