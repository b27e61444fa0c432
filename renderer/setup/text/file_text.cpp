#include "setup/text/file_text.h"

#include "setup/text/code_points.h"
#include "setup/text/where.h"
#include "setup/text/whole_file.h"
#include "setup/text/words.h"

#include <algorithm>
#include <vector>

namespace rushlight {

namespace {

// Dotted keys nest a table each, brackets a list or table, and both are freed from the inside out, so that a line of a
// million would use up the stack. Nobody writes more than these by hand.
constexpr int most_dots = 64;
constexpr std::size_t most_brackets = 64;
// Each becomes some 200 bytes. Ten thousand things with all their keys have half as many.
constexpr std::size_t most_values = 2'000'000;

void check_letters(const std::string& text, const std::string& path) {
    Where where{path, 1, 1};
    for (std::size_t i = 0; i < text.size();) {
        const CodePoint p = code_point_at(text, i);
        if (!p.sound) throw InputError(where, "a byte that is not UTF-8 text; save the file as UTF-8");
        ++where.column;
        if (text[i] == '\n') {
            ++where.line;
            where.column = 1;
        }
        i += p.used;
    }
}

/// The line and column of a byte.
Where place_of(const std::string& text, std::size_t at, const std::string& path) {
    Where where{path, 1, 1};
    for (std::size_t i = 0; i < at; i += code_point_at(text, i).used) {
        ++where.column;
        if (text[i] == '\n') {
            ++where.line;
            where.column = 1;
        }
    }
    return where;
}

/// Where the string that begins at `at` has ended (TOML 1.0, "String"); the line's end where it is never closed.
std::size_t after_string(const std::string& text, std::size_t at) {
    const char quote = text[at];
    const bool has_escapes = quote == '"';
    const std::string three(3, quote);
    const bool long_one = text.compare(at, 3, three) == 0;
    for (at += long_one ? 3 : 1; at < text.size(); ++at) {
        if (has_escapes && text[at] == '\\') {
            ++at;
        } else if (!long_one && (text[at] == quote || text[at] == '\n')) {
            return text[at] == quote ? at + 1 : at;
        } else if (long_one && text.compare(at, 3, three) == 0) {
            at += 3;
            // Up to two quotes more belong to the text.
            for (int more = 0; more < 2 && at < text.size() && text[at] == quote; ++more) ++at;
            return at;
        }
    }
    return text.size();
}

/// How deep words lie in words, before a parser follows them. Dots and brackets of strings and comments are only text.
void check_depth(const std::string& text, const std::string& path) {
    std::vector<int> dots{0};  // since the last comma or line end: of the line, and of each bracket that is open
    int all = 0;
    std::size_t values = 0;
    for (std::size_t i = 0; i < text.size();) {
        const char c = text[i];
        if (c == ',' || c == '=' || c == '[' || c == '{') ++values;
        if (values > most_values)
            throw InputError(place_of(text, i, path),
                             "more than " + std::to_string(most_values) + " values in one file");
        if (c == '#') {
            i = std::min(text.find('\n', i), text.size());
            continue;
        }
        if (c == '"' || c == '\'') {
            i = after_string(text, i);
            continue;
        }
        if (c == '.') {
            ++dots.back();
            ++all;
        } else if (c == '[' || c == '{') {
            dots.push_back(0);
        } else if (c == '\n' || c == ',' || ((c == ']' || c == '}') && dots.size() > 1)) {
            all -= dots.back();
            dots.back() = 0;
            if (c == ']' || c == '}') dots.pop_back();
        }
        if (all > most_dots) throw InputError(place_of(text, i, path), "more than 64 dots between two words");
        if (dots.size() > most_brackets + 1)
            throw InputError(place_of(text, i, path), "more than 64 brackets within each other");
        ++i;
    }
}

void check_text(const std::string& text, const std::string& path) {
    if (text.size() > largest_setup_file)
        throw InputError(Where{path}, "the file has " + std::to_string(text.size() / 1'000'000) +
                                          " MB; expected no more than 16 MB");
    check_letters(text, path);
    check_depth(text, path);
}

/// A key in quotes that its line begins with; "" where it begins otherwise.
std::string key_in_quotes(const std::string& text, std::size_t line) {
    std::size_t from = 0;
    for (; line > 1 && from < text.size(); --line) from = std::min(text.find('\n', from), text.size() - 1) + 1;
    from = text.find_first_not_of(" \t", from);
    if (from == std::string::npos || (text[from] != '"' && text[from] != '\'')) return "";
    const std::size_t end = text.find(text[from], from + 1);
    return end == std::string::npos ? "" : text.substr(from + 1, end - from - 1);
}

/// The parser's own words, on one line. It garbles keys in quotes.
std::string one_line(const std::string& words, const std::string& text, std::size_t line) {
    const std::string redefined = "cannot redefine existing ";
    const std::size_t at = words.find(redefined);
    const std::string key = key_in_quotes(text, line);
    if (at != std::string::npos && !key.empty()) return "a second " + in_quotes(key) + "; expected each key once";
    std::string all = shown(words.substr(0, 300));
    // 10:40 without seconds is no time of TOML's.
    if (words.find("parsing time") != std::string::npos) all += "; put a time in quotes: \"10:40\"";
    return all;
}

}  // namespace

std::string text_of_file(const std::string& path, const std::string& expected) {
    return whole_file(path, largest_setup_file, expected);
}

toml::table parse_toml(const std::string& text, const std::string& path) {
    check_text(text, path);
    try {
        return toml::parse(text, path);
    } catch (const toml::parse_error& e) {
        const toml::source_position& p = e.source().begin;
        throw InputError(Where{path, static_cast<int>(p.line), static_cast<int>(p.column)},
                         "not valid TOML: " + one_line(std::string(e.description()), text, p.line));
    }
}

}  // namespace rushlight
