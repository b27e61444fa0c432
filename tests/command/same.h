// Answers of two runs held against each other.
#pragma once

#include "command/program.h"

#include <nlohmann/json.hpp>

namespace rushlight::testing_command {

/// Without how long it took, which is never twice the same, and without remarks, which tell of it.
inline nlohmann::json timeless(nlohmann::json j) {
    if (j.is_object())
        for (const char* word : {"seconds", "remarks"}) j.erase(word);
    if (j.is_structured())
        for (auto& part : j) part = timeless(part);
    return j;
}

inline nlohmann::json timeless(const std::string& text) {
    return timeless(nlohmann::json::parse(text));
}

/// Without the date that an EXR file carries.
inline std::string dateless_bytes_of(const fs::path& path) {
    std::ifstream in(path, std::ios::binary);
    std::string bytes{std::istreambuf_iterator<char>(in), {}};
    const std::size_t date = bytes.find("capDate");
    constexpr std::size_t up_to_its_end = sizeof "capDate" + sizeof "string" + 4 + 19;  // its size, year to second
    if (date != std::string::npos) bytes.erase(date, up_to_its_end);
    return bytes;
}

}  // namespace rushlight::testing_command
