// What the trade says every day, and the name that the file's catalogues have for it. The program reads both and writes
// only its own.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace rushlight {

struct TradeWord {
    std::string_view said, ours;
    std::string_view of;  // what kind of thing, for the reference page
};
/// All of them, in the order of the reference page. Common practice, no source.
std::span<const TradeWord> trade_words();

/// A key that people guess, and the file's own that it is another word for: `dim` is `level`, `[[bounce]]` a
/// `[[board]]`.
struct KeyWord {
    std::string_view said, ours;
};
std::span<const KeyWord> key_words();
/// Empty where nobody says so. A section's own key of that name comes first.
std::string_view key_in_our_words(std::string_view said);

/// `tidied` with "1/2", "1/4" and "1/8" spelt out, and in our words where the trade has another: "1/2 cto" is
/// "half orange". Text that is no word of the trade comes back as it is. `number` counts the meanings of one word, from
/// 0; nothing when there are no more.
std::optional<std::string> meaning(const std::string& tidied, std::size_t number);

/// A name of an item with the trade's words in it replaced: "650 w tungsten fresnel, spot" has a lens head.
std::string item_in_our_words(const std::string& tidied);
/// The words that are replaced there.
std::span<const TradeWord> item_words();

/// What to write instead of a key that the file does not have: "a mirror is furniture with finish = \"mirror\"". Empty
/// when the word says nothing.
std::string_view what_it_is_here(std::string_view key);

}  // namespace rushlight
