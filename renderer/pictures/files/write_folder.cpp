#include "pictures/files/write_folder.h"

#include <fcntl.h>
#include <stdio.h>
#include <unistd.h>

#include <algorithm>
#include <climits>
#include <system_error>

namespace rushlight {

namespace {

namespace fs = std::filesystem;

/// Without the slash that may end it, so that its last part has a name.
fs::path plain_path(const fs::path& folder) {
    fs::path p = folder.lexically_normal();
    return p.has_filename() ? p : p.parent_path();
}

fs::path beside(const fs::path& folder, unsigned number, const char* word) {
    return folder.parent_path() /
           (".rushlight-" + std::to_string(::getpid()) + "-" + std::to_string(number) + "." + word);
}

[[noreturn]] void fail(const fs::path& folder, const std::string& why) {
    throw OutputError("cannot write the folder '" + folder.string() + "': " + why);
}

/// Removed again unless it was put in its place.
struct Unfinished {
    fs::path path;
    ~Unfinished() {
        std::error_code ignored;
        if (!path.empty()) fs::remove_all(path, ignored);
    }
};

}  // namespace

std::vector<std::string> strangers_in(const fs::path& folder, const std::vector<std::string>& ours) {
    std::vector<std::string> strangers;
    if (files_are_left_to_another()) return strangers;
    std::error_code none;
    for (const auto& entry : fs::directory_iterator(folder, none)) {
        const std::string name = entry.path().filename().string();
        std::error_code ignored;
        if (!entry.is_regular_file(ignored) || entry.is_symlink(ignored) ||
            std::find(ours.begin(), ours.end(), name) == ours.end())
            strangers.push_back(name);
    }
    std::sort(strangers.begin(), strangers.end());
    return strangers;
}

void expect_folder_writable(const fs::path& folder) {
    if (files_are_left_to_another()) return;
    const fs::path place = plain_path(folder);
    std::error_code error;
    if (place.filename().empty() || place.filename() == "." || place.filename() == "..")
        fail(folder, "it needs a name of its own");
    if (fs::exists(fs::symlink_status(place, error)) &&
        (fs::is_symlink(place, error) || !fs::is_directory(place, error)))
        fail(folder, "something that is no folder has that name");
    if (place.filename().native().size() > NAME_MAX) fail(folder, "the name is longer than can be written there");
    expect_writable(place.parent_path() / ".rushlight.try");
}

void write_folder(const fs::path& folder, const std::vector<FolderFile>& files) {
    if (files_are_left_to_another()) return;
    const fs::path place = plain_path(folder);
    expect_folder_writable(place);
    Unfinished made{}, old{};
    std::error_code error;
    // Past what a process of the same number left behind when it was killed.
    unsigned number = 0;
    while (!fs::create_directory(beside(place, number, "making"), error) && !error) ++number;
    if (error) fail(place, error.message());
    made.path = beside(place, number, "making");
    for (const FolderFile& f : files) write_file(made.path / f.name, f.bytes);
    const bool there = fs::is_directory(place, error);
    // In one stroke, so that there is never no folder; what was there is then removed as the unfinished one.
    if (there && ::renameat2(AT_FDCWD, made.path.c_str(), AT_FDCWD, place.c_str(), RENAME_EXCHANGE) == 0) return;
    while (fs::exists(beside(place, number, "before"), error)) ++number;
    const fs::path aside = beside(place, number, "before");
    if (there) {
        fs::rename(place, aside, error);
        if (error) fail(place, error.message());
    }
    fs::rename(made.path, place, error);
    if (error) {
        std::error_code ignored;
        if (there) fs::rename(aside, place, ignored);
        fail(place, error.message());
    }
    made.path.clear();
    if (there) old.path = aside;
}

}  // namespace rushlight
