#include "setup/text/code_points.h"

#include <array>
#include <cstdint>

namespace rushlight {
namespace {

constexpr char32_t not_a_character = 0xFFFD;

/// How many bytes follow a leading byte; -1 when it cannot lead.
int followers(unsigned char lead) {
    if (lead < 0x80) return 0;
    if (lead >= 0xC2 && lead <= 0xDF) return 1;
    if (lead >= 0xE0 && lead <= 0xEF) return 2;
    if (lead >= 0xF0 && lead <= 0xF4) return 3;
    return -1;
}

bool allowed(char32_t c, int bytes_after) {
    constexpr std::array<char32_t, 4> least{0, 0x80, 0x800, 0x10000};
    return c >= least[static_cast<std::size_t>(bytes_after)] && c <= 0x10FFFF && !(c >= 0xD800 && c <= 0xDFFF);
}

}  // namespace

CodePoint code_point_at(std::string_view text, std::size_t at) {
    const auto lead = static_cast<unsigned char>(text[at]);
    const int more = followers(lead);
    char32_t c = more <= 0 ? lead : lead & (0x3FU >> more);
    std::size_t used = 1;
    bool whole = more >= 0;
    for (int k = 0; whole && k < more; ++k) {
        const auto next = at + used < text.size() ? static_cast<unsigned char>(text[at + used]) : 0U;
        whole = (next & 0xC0U) == 0x80U;
        if (whole) c = (c << 6U) | (next & 0x3FU), ++used;
    }
    const bool sound = whole && allowed(c, more);
    return {sound ? c : not_a_character, used, sound};
}

std::u32string code_points(std::string_view text) {
    std::u32string out;
    out.reserve(text.size());
    for (std::size_t i = 0; i < text.size();) {
        const CodePoint p = code_point_at(text, i);
        const bool control = p.c < 0x20 || (p.c >= 0x7F && p.c < 0xA0);
        out.push_back(control ? U' ' : p.c);
        i += p.used;
    }
    return out;
}

std::string utf8(std::u32string_view text) {
    std::string out;
    out.reserve(text.size());
    const auto byte = [&](std::uint32_t b) { out.push_back(static_cast<char>(b)); };
    for (char32_t c : text) {
        if (c < 0x80) {
            byte(c);
        } else if (c < 0x800) {
            byte(0xC0U | (c >> 6U)), byte(0x80U | (c & 0x3FU));
        } else if (c < 0x10000) {
            byte(0xE0U | (c >> 12U)), byte(0x80U | ((c >> 6U) & 0x3FU)), byte(0x80U | (c & 0x3FU));
        } else {
            byte(0xF0U | (c >> 18U)), byte(0x80U | ((c >> 12U) & 0x3FU));
            byte(0x80U | ((c >> 6U) & 0x3FU)), byte(0x80U | (c & 0x3FU));
        }
    }
    return out;
}

}  // namespace rushlight
