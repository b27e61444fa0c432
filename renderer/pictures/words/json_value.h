// The two leaves of every JSON text: a number, and words that came from a person.
#pragma once

#include "pictures/words/utf8.h"

#include <cmath>
#include <nlohmann/json.hpp>
#include <string>

namespace rushlight {

using JsonValue = nlohmann::ordered_json;

/// Null where there is no number to give: JSON knows no infinity.
inline JsonValue json_number(double v) {
    return std::isfinite(v) ? JsonValue(v) : JsonValue(nullptr);
}
/// Sound UTF-8, whatever was typed.
inline JsonValue json_text(const std::string& s) {
    return utf8(code_points(s));
}

}  // namespace rushlight
