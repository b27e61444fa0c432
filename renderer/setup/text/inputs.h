// Which files this run has read: none of them is ever written over.
#pragma once

#include <filesystem>
#include <string>

namespace rushlight {

/// Everything that opens a file which a person named calls it.
void remember_input(const std::string& path);
/// Whether `path` leads to one of them, by whatever name or link.
bool is_input(const std::filesystem::path& path);

}  // namespace rushlight
