// Letters that a terminal or a page obeys instead of showing, found in text and kept out of it.
#pragma once

#include <string>
#include <string_view>

namespace rushlight {

/// Control characters (C0, DEL, C1), the line and paragraph separators, and the marks that turn the direction of
/// writing (UAX 9: embeddings, overrides, isolates).
bool is_hidden(char32_t letter);
/// The first of them as "U+001B"; "" where there is none. Those in `allowed`, which is ASCII, are passed over.
std::string hidden_letter(std::string_view text, std::string_view allowed = "");

/// As it may be printed: what is hidden, and every byte that is no UTF-8, becomes '?'.
std::string shown(std::string_view text);

}  // namespace rushlight
