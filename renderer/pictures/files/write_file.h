// A file is either there whole or not there: written beside its place under another name, then renamed.
#pragma once

#include <filesystem>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace rushlight {

/// Something could not be drawn or written; what() is one sentence for the person who asked.
struct OutputError : std::runtime_error {
    using std::runtime_error::runtime_error;
};

/// Writes `bytes` to `path`, replacing what was there and keeping its rights; a link stays, and what it leads to is
/// replaced. Throws OutputError, also where a folder, a device or a pipe is there, and then leaves the old file as it
/// was and nothing half written beside it.
void write_file(const std::filesystem::path& path, std::string_view bytes);

struct FileBytes {
    std::filesystem::path path;
    std::string bytes;
};
/// Files of one folder that belong together: either all of them are as they were, or all are new. What a process that
/// is killed in the middle had decided, the next that writes into the folder finishes (left_behind.h).
void write_together(const std::vector<FileBytes>& files);

/// Throws the OutputError that write_file would end with, before long work is done for nothing. Puts in order what
/// killed processes left in that folder.
void expect_writable(const std::filesystem::path& path);

/// From now on nothing is written by this process, and no folder looked at: another machine of the team does it.
void leave_files_to_another();
bool files_are_left_to_another();

}  // namespace rushlight
