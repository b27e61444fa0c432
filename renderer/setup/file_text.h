// A file's text, checked before a parser sees it.
#pragma once

#include <toml++/toml.h>

#include <string>

namespace rushlight {

inline constexpr std::size_t largest_setup_file = 16'000'000;  // bytes

/// Throws InputError for what is not there, is a folder, cannot be read or is too large.
std::string text_of_file(const std::string& path);

/// Throws InputError with the place of the first thing that is no UTF-8 or no TOML.
toml::table parse_toml(const std::string& text, const std::string& path);

}  // namespace rushlight
