// Letters of UTF-8 text (RFC 3629), and those among them that a terminal or a page obeys instead of showing.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace rushlight {

/// Bytes of the letter at `at`; 0 where there is none.
std::size_t letter_length(std::string_view text, std::size_t at);

/// Control characters (C0, DEL, C1), the line and paragraph separators, and the marks that turn the direction of
/// writing (UAX 9: embeddings, overrides, isolates). `letter` is one letter.
bool is_hidden(std::string_view letter);
/// The first of them as "U+001B"; "" where there is none. Those in `allowed` are passed over.
std::string hidden_letter(std::string_view text, std::string_view allowed = "");

/// As it may be printed: what is hidden, and every byte that is no UTF-8, becomes '?'.
std::string shown(std::string_view text);

}  // namespace rushlight
