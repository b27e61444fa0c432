#include "setup/text/letters.h"

#include <cstdio>

namespace rushlight {

namespace {

/// The number of a letter that is one.
unsigned long code_of(std::string_view letter) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned long>(static_cast<unsigned char>(letter[i])); };
    unsigned long code = byte(0);
    if (letter.size() > 1) code &= (1UL << (7 - letter.size())) - 1;
    for (std::size_t i = 1; i < letter.size(); ++i) code = code << 6 | (byte(i) & 0x3F);
    return code;
}

}  // namespace

std::size_t letter_length(std::string_view s, std::size_t at) {
    const auto byte = [&](std::size_t i) -> unsigned { return i < s.size() ? static_cast<unsigned char>(s[i]) : 0U; };
    const auto follows = [&](std::size_t i, unsigned low, unsigned high) { return byte(i) >= low && byte(i) <= high; };
    if (at >= s.size()) return 0;
    const unsigned c = byte(at);
    if (c < 0x80) return 1;
    if (c >= 0xC2 && c <= 0xDF) return follows(at + 1, 0x80, 0xBF) ? 2 : 0;
    if (c >= 0xE0 && c <= 0xEF) {
        const unsigned low = c == 0xE0 ? 0xA0 : 0x80, high = c == 0xED ? 0x9F : 0xBF;
        return follows(at + 1, low, high) && follows(at + 2, 0x80, 0xBF) ? 3 : 0;
    }
    if (c >= 0xF0 && c <= 0xF4) {
        const unsigned low = c == 0xF0 ? 0x90 : 0x80, high = c == 0xF4 ? 0x8F : 0xBF;
        return follows(at + 1, low, high) && follows(at + 2, 0x80, 0xBF) && follows(at + 3, 0x80, 0xBF) ? 4 : 0;
    }
    return 0;
}

bool is_hidden(std::string_view letter) {
    const unsigned long c = code_of(letter);
    const auto within = [&](unsigned long low, unsigned long high) { return c >= low && c <= high; };
    return c < 0x20 || within(0x7F, 0x9F) || within(0x2028, 0x202E) || within(0x2066, 0x2069);
}

std::string hidden_letter(std::string_view text, std::string_view allowed) {
    for (std::size_t i = 0; i < text.size();) {
        const std::size_t length = letter_length(text, i);
        const std::string_view letter = text.substr(i, length);
        if (length > 0 && is_hidden(letter) && allowed.find(letter) == std::string_view::npos) {
            char code[16];
            std::snprintf(code, sizeof code, "U+%04lX", code_of(letter));
            return code;
        }
        i += length > 0 ? length : 1;
    }
    return "";
}

std::string shown(std::string_view text) {
    std::string out;
    out.reserve(text.size());
    for (std::size_t i = 0; i < text.size();) {
        const std::size_t length = letter_length(text, i);
        const std::string_view letter = text.substr(i, length);
        if (length == 0 || is_hidden(letter))
            out += '?';
        else
            out += letter;
        i += length > 0 ? length : 1;
    }
    return out;
}

}  // namespace rushlight
