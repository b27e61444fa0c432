// Sentences about how a result was found.
#pragma once

#include "paths/work/effort.h"

#include <cstdio>
#include <string>
#include <vector>

namespace rushlight {

inline constexpr const char* no_light_remark = "No light: no lamp is on and the day is dark.";
inline constexpr const char* no_meter_remark =
    "Nothing is read: there is no meter and nobody in this set-up. Add a [[meter]] or a [[mark]] to the file.";

/// A number in a sentence, as printf writes it.
inline std::string in_words(const char* format, double value) {
    char text[48];
    std::snprintf(text, sizeof text, format, value);
    return text;
}

/// Adds to a frame or a map that there was no light, or that the wanted noise was not reached.
inline void remark_on_field(std::size_t sources, bool cut_short, const Effort& effort,
                            std::vector<std::string>& remarks) {
    if (sources == 0) remarks.emplace_back(no_light_remark);
    if (cut_short)
        remarks.emplace_back(effort.stopped() ? "Stopped at your request: this is what was reached."
                                              : "The wanted noise was not reached in the longest time allowed.");
}

}  // namespace rushlight
