#include "pictures/words/utf8.h"

namespace rushlight {
namespace {

bool combining(char32_t c) {
    return (c >= 0x0300 && c <= 0x036F) || (c >= 0x1AB0 && c <= 0x1AFF) || (c >= 0x20D0 && c <= 0x20FF) ||
           (c >= 0xFE00 && c <= 0xFE0F) || c == 0x200B || c == 0x200D;
}

// Blocks that terminals set two columns wide (the main ranges of Unicode annex 11).
bool wide(char32_t c) {
    return (c >= 0x1100 && c <= 0x115F) || (c >= 0x2E80 && c <= 0x303E) || (c >= 0x3041 && c <= 0xA4CF) ||
           (c >= 0xAC00 && c <= 0xD7A3) || (c >= 0xF900 && c <= 0xFAFF) || (c >= 0xFE30 && c <= 0xFE6F) ||
           (c >= 0xFF00 && c <= 0xFF60) || (c >= 0xFFE0 && c <= 0xFFE6) || (c >= 0x1F300 && c <= 0x1FAFF) ||
           (c >= 0x20000 && c <= 0x3FFFD);
}

int columns(char32_t c) {
    return combining(c) ? 0 : wide(c) ? 2 : 1;
}

// Base letters of U+00C0..U+00FF and of U+0100..U+017F.
constexpr std::string_view latin_1 = "AAAAAAACEEEEIIIIDNOOOOOxOUUUUYTsaaaaaaaceeeeiiiidnooooo/ouuuuyty";
constexpr std::string_view latin_a =
    "AaAaAaCcCcCcCcDdDdEeEeEeEeEeGgGgGgGgHhHhIiIiIiIiIiIiJjKkkLlLlLlLlLlNnNnNnnNnOoOoOoOoRrRrRrSsSsSsSsTtTtTt"
    "UuUuUuUuUuUuWwYyYZzZzZzs";
static_assert(latin_1.size() == 64 && latin_a.size() == 128);

}  // namespace

int columns(std::string_view text) {
    int sum = 0;
    for (char32_t c : code_points(text)) sum += columns(c);
    return sum;
}

std::string cut_to(std::string_view text, int width) {
    const std::u32string all = code_points(text);
    int sum = 0;
    for (char32_t c : all) sum += columns(c);
    if (sum <= width) return utf8(all);
    std::u32string kept;
    int used = 0;
    for (char32_t c : all) {
        if (used + columns(c) > width - 1) break;
        kept.push_back(c);
        used += columns(c);
    }
    while (!kept.empty() && kept.back() == U' ') kept.pop_back();
    if (width > 0) kept.push_back(U'…');
    return utf8(kept);
}

std::string first_bytes(std::string_view text, std::size_t most) {
    if (text.size() <= most) return std::string(text);
    constexpr char32_t joiner = 0x200D;
    const auto begins = [&](std::size_t at) { return (static_cast<unsigned char>(text[at]) & 0xC0U) != 0x80U; };
    const auto sign_at = [&](std::size_t at) { return code_points(text.substr(at, 4)).front(); };
    std::size_t at = most;
    while (at > 0) {
        // Four bytes are the longest letter: where none begins within them, it is no UTF-8.
        std::size_t start = at;
        while (start > 0 && at - start < 3 && !begins(start)) --start;
        if (!begins(start)) return std::string(text.substr(0, most));
        std::size_t before = start > 0 ? start - 1 : 0;
        while (before > 0 && start - before < 4 && !begins(before)) --before;
        const bool goes_on = combining(sign_at(start)) || (start > 0 && sign_at(before) == joiner);
        at = start;
        if (!goes_on) break;
        at = before;
    }
    return std::string(text.substr(0, at));
}

std::string padded(std::string_view text, int width) {
    std::string out = utf8(code_points(text));
    for (int n = columns(text); n < width; ++n) out.push_back(' ');
    return out;
}

std::string padded_left(std::string_view text, int width) {
    std::string out;
    for (int n = columns(text); n < width; ++n) out.push_back(' ');
    return out + utf8(code_points(text));
}

char plain_letter(char32_t c) {
    if (c < 0x80) return static_cast<char>(c);
    if (c >= 0xC0 && c < 0x100) return latin_1[c - 0xC0];
    if (c >= 0x100 && c < 0x180) return latin_a[c - 0x100];
    if (c == U'‘' || c == U'’') return '\'';
    if (c == U'“' || c == U'”') return '"';
    if (c == U'–' || c == U'—') return '-';
    if (c == 0xA0 || c == 0x2009 || c == 0x202F) return ' ';
    return 0;
}

}  // namespace rushlight
