// Text as the signs that people see: UTF-8 (RFC 3629) taken apart and put together.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace rushlight {

struct CodePoint {
    char32_t c;        // U+FFFD where the bytes are not UTF-8
    std::size_t used;  // bytes
    bool sound;
};
/// The one that begins at byte `at`.
CodePoint code_point_at(std::string_view text, std::size_t at);

/// The code points of `text`. Bytes that are not UTF-8 become U+FFFD; line breaks and other control
/// characters become a space, so that one name stays on one line.
std::u32string code_points(std::string_view text);
std::string utf8(std::u32string_view text);

}  // namespace rushlight
