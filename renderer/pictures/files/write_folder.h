// A folder is either there whole or as it was: written beside its place under another name, then renamed.
#pragma once

#include "pictures/files/write_file.h"

#include <filesystem>
#include <string>
#include <vector>

namespace rushlight {

struct FolderFile {
    std::string name, bytes;
};

/// What lies in `folder` that is none of `ours`; empty where there is no folder.
std::vector<std::string> strangers_in(const std::filesystem::path& folder, const std::vector<std::string>& ours);

/// Throws OutputError where a folder could not be written here: before long work is done for nothing.
void expect_folder_writable(const std::filesystem::path& folder);

/// Writes the files into `folder`, which is replaced where it was there. Throws OutputError, and then leaves what was
/// there as it was.
void write_folder(const std::filesystem::path& folder, const std::vector<FolderFile>& files);

}  // namespace rushlight
