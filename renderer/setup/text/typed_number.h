// Numbers as the trade writes them, with their unit: "T2.8", "24mm", "4300K", "30%", "EI 800", "SSE".
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace rushlight {

/// The number that `text` says for a key whose value is counted in `unit` (as the key table names it). Each unit knows
/// how people write it, and no other: "24mm" is no stop. Nothing when the text is no such number.
std::optional<double> typed_number(std::string_view text, std::string_view key, std::string_view unit);

/// Width over height: "2.39", "2.39:1", "16:9". 0 where the text says none.
double typed_aspect(std::string_view text);

/// How such a number may be typed besides the bare figure, for a message: `a number such as 2.8 or "T2.8"`.
std::string number_forms(std::string_view key, std::string_view unit);

}  // namespace rushlight
