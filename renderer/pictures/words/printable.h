// What a person reads on a screen must not steer the screen: names come from files that others wrote.
#pragma once

#include <string>
#include <string_view>

namespace rushlight {

/// `text` with a '?' for every sign that would steer a terminal or turn the order of what stands beside it: control
/// characters of both sets (ISO/IEC 6429) but line ends and tabs, and the overrides of direction (Unicode annex 9).
/// Other bytes are left as they are, UTF-8 or not.
std::string printable(std::string_view text);
/// The same on one line.
std::string on_one_line(std::string_view text);

}  // namespace rushlight
