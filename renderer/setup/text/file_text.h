// A file's text, checked before a parser sees it.
#pragma once

#include <toml++/toml.h>

#include <string>

namespace rushlight {

inline constexpr std::size_t largest_setup_file = 16'000'000;  // bytes

/// The text of a TOML file; throws as whole_file() does.
std::string text_of_file(const std::string& path, const std::string& expected = "a set-up file");

/// Throws InputError with the place of the first thing that is no UTF-8 or no TOML.
toml::table parse_toml(const std::string& text, const std::string& path);

}  // namespace rushlight
