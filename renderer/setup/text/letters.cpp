#include "setup/text/letters.h"

#include "setup/text/code_points.h"

#include <cstdio>

namespace rushlight {

bool is_hidden(char32_t c) {
    const auto within = [&](char32_t low, char32_t high) { return c >= low && c <= high; };
    return c < 0x20 || within(0x7F, 0x9F) || within(0x2028, 0x202E) || within(0x2066, 0x2069);
}

std::string hidden_letter(std::string_view text, std::string_view allowed) {
    for (std::size_t i = 0; i < text.size();) {
        const CodePoint p = code_point_at(text, i);
        const bool passed = p.used == 1 && allowed.find(text[i]) != std::string_view::npos;
        if (p.sound && is_hidden(p.c) && !passed) {
            char code[16];
            std::snprintf(code, sizeof code, "U+%04lX", static_cast<unsigned long>(p.c));
            return code;
        }
        i += p.used;
    }
    return "";
}

std::string shown(std::string_view text) {
    std::string out;
    out.reserve(text.size());
    for (std::size_t i = 0; i < text.size();) {
        const CodePoint p = code_point_at(text, i);
        if (!p.sound || is_hidden(p.c))
            out += '?';
        else
            out += text.substr(i, p.used);
        i += p.used;
    }
    return out;
}

}  // namespace rushlight
