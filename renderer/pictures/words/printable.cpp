#include "pictures/words/printable.h"

#include <algorithm>

namespace rushlight {

namespace {

/// How many bytes at the beginning of `rest` are one sign that steers; 0: the first byte may stay.
std::size_t steering(std::string_view rest) {
    const auto byte = [&](std::size_t i) { return i < rest.size() ? static_cast<unsigned char>(rest[i]) : 0U; };
    const unsigned first = byte(0), second = byte(1), third = byte(2);
    if (first < 0x20) return first == '\n' || first == '\t' ? 0 : 1;
    if (first == 0x7F) return 1;
    if (first == 0xC2 && second >= 0x80 && second <= 0x9F) return 2;                  // U+0080 to U+009F
    if (first == 0xE2 && second == 0x80 && third >= 0xA8 && third <= 0xAE) return 3;  // U+2028 to U+202E
    if (first == 0xE2 && second == 0x81 && third >= 0xA6 && third <= 0xA9) return 3;  // U+2066 to U+2069
    return 0;
}

/// How many bytes the sign at the beginning of `rest` has; 1 where it is no UTF-8.
std::size_t length(std::string_view rest) {
    const auto lead = static_cast<unsigned char>(rest[0]);
    const std::size_t n = lead >= 0xF0 && lead <= 0xF4  ? 4
                          : lead >= 0xE0 && lead < 0xF0 ? 3
                          : lead >= 0xC2 && lead < 0xE0 ? 2
                                                        : 1;
    if (rest.size() < n) return 1;
    const bool whole = std::all_of(rest.begin() + 1, rest.begin() + static_cast<std::ptrdiff_t>(n),
                                   [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; });
    return whole ? n : 1;
}

}  // namespace

std::string printable(std::string_view text) {
    std::string out;
    out.reserve(text.size());
    while (!text.empty()) {
        std::size_t n = steering(text);
        if (n > 0) {
            out += '?';
        } else {
            n = length(text);
            // A byte by itself that is a control character where the screen is set to one byte a letter.
            const auto lead = static_cast<unsigned char>(text[0]);
            if (n == 1 && lead >= 0x80 && lead <= 0x9F)
                out += '?';
            else
                out += text.substr(0, n);
        }
        text.remove_prefix(n);
    }
    return out;
}

std::string on_one_line(std::string_view text) {
    std::string line = printable(text);
    std::replace(line.begin(), line.end(), '\n', ' ');
    std::replace(line.begin(), line.end(), '\t', ' ');
    return line;
}

}  // namespace rushlight
