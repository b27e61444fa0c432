// Every word that a set-up file may hold, in one table: the reader takes names, ranges and defaults from it,
// the reference page is printed from it.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace rushlight {

inline constexpr double far_away = 1000;  // m: nothing in a set-up file is farther off than this
inline constexpr std::string_view point_form = "[x, y, z] m", aim_form = "name of a mark or thing, or [x, y, z] m";

/// The kind of value that a key takes.
enum class KeyKind {
    text,     // free text
    word,     // one of Key::words
    yes_no,   // true or false
    number,   // in Key::unit
    length,   // metres, or text such as "6ft 2in"
    lengths,  // several of these in brackets: a point or a size
    finish,   // a named finish, a reflectance, or a table
    named,    // described by Key::words
    table,    // a section of its own
    tables    // any number of sections of its own
};

struct Key {
    std::string_view name;
    KeyKind kind;
    std::string_view unit;      // of a number, or what the value looks like
    double low, high;           // range of a number or length; both 0 when there is none
    std::string_view standard;  // value when left out; "" must be given; "-" may be left out
    std::string_view help;
    std::string_view words{};  // "hard|box|ball" for KeyKind::word
};

struct Section {
    std::string_view name;  // as a person sees it in the file: "[place] room", "[[lamp]]"
    std::string_view help;
    std::span<const Key> keys;
};

/// All sections in the order of the reference page.
std::span<const Section> key_table();
/// The section of that name; there is one.
const Section& section(std::string_view name);
/// By its own name, or by another word that people have for it (trade_words.h). Null when the section has no such key.
const Key* find_key(const Section& section, std::string_view name);
std::vector<std::string> key_names(const Section& section);

/// The whole table as Markdown, as it stands at the end of docs/set-up-file.md.
std::string key_reference();

}  // namespace rushlight
