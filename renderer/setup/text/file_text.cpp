#include "setup/text/file_text.h"

#include "setup/text/code_points.h"
#include "setup/text/where.h"
#include "setup/text/whole_file.h"

namespace rushlight {

namespace {

// Dotted keys nest a table each, and tables are freed from the inside out, so that a line of a million dots
// would use up the stack. Nobody writes more than these by hand.
constexpr int most_dots = 64;

void check_text(const std::string& text, const std::string& path) {
    if (text.size() > largest_setup_file)
        throw InputError(Where{path}, "the file has " + std::to_string(text.size() / 1'000'000) +
                                          " MB; expected no more than 16 MB");
    Where where{path, 1, 1};
    int dots = 0;
    char last = '\n';
    for (std::size_t i = 0; i < text.size();) {
        const CodePoint p = code_point_at(text, i);
        if (!p.sound) throw InputError(where, "a byte that is not UTF-8 text; save the file as UTF-8");
        const char c = text[i];
        if (c == '.' && last != '.') ++dots;
        if (c == '\n' || c == ',' || c == '=' || c == '[' || c == ']' || c == '{' || c == '}') dots = 0;
        if (dots > most_dots) throw InputError(where, "more than 64 dots between two words");
        last = c;
        i += p.used;
        ++where.column;
        if (c == '\n') {
            ++where.line;
            where.column = 1;
        }
    }
}

/// The parser's own words, on one line.
std::string one_line(std::string_view text) {
    std::string line;
    for (char c : text.substr(0, 300)) line += static_cast<unsigned char>(c) < 0x20 ? ' ' : c;
    return line;
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
                         "not TOML as it stands: " + one_line(e.description()));
    }
}

}  // namespace rushlight
