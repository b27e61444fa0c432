// The two leaves of every JSON text: a number, and words that came from a person.
#pragma once

#include "pictures/words/printable.h"
#include "pictures/words/utf8.h"

#include <cmath>
#include <cstdio>
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

/// The version of all JSON that is handed out. One name a value; a name that is left stays beside the new one for one
/// version. 2: t_stop (was stop), receptor (was kind, of a reading), key_to_fill (was key_fill), key_to_fill_stops (was
/// cheeks_stops, of mismatches), t_stop_before (was stop_before).
inline constexpr int json_schema = 2;

/// As a file of its own, an object with its schema first. The overrides of direction, which would turn the order of
/// what stands beside them on a screen, are written as JSON's escapes: see printable().
inline std::string written_out(const JsonValue& value, int indent = 2) {
    JsonValue with_schema;
    if (value.is_object()) {
        with_schema["schema"] = json_schema;
        with_schema.update(value);
    }
    std::string text = (value.is_object() ? with_schema : value).dump(indent) + "\n", out;
    out.reserve(text.size());
    for (std::size_t i = 0; i < text.size(); ++i) {
        const std::string_view sign = std::string_view(text).substr(i, 3);
        char code[8] = {};
        if (sign.size() == 3 && sign[0] == '\xE2' && printable(sign) == "?") {
            const unsigned c = 0x2000U | (static_cast<unsigned char>(sign[1]) & 0x3FU) << 6U |
                               (static_cast<unsigned char>(sign[2]) & 0x3FU);
            std::snprintf(code, sizeof code, "\\u%04X", c);
            out += code;
            i += 2;
        } else {
            out += text[i];
        }
    }
    return out;
}

}  // namespace rushlight
