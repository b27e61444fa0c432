#include "pictures/files/write_folder.h"

#include "pictures/files/left_behind.h"
#include "pictures/files/unfinished_file.h"

#include <fcntl.h>
#include <stdio.h>
#include <sys/file.h>
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

[[noreturn]] void fail(const fs::path& folder, const std::string& why) {
    throw OutputError("cannot write the folder '" + folder.string() + "': " + why);
}

std::string why(const std::error_code& error) {
    return error == std::errc::no_space_on_device ? "the disk is full" : error.message();
}

/// A new folder beside `place`, held until this ends, and removed again unless it was put in its place.
class UnfinishedFolder {
public:
    explicit UnfinishedFolder(const fs::path& place) {
        std::error_code error;
        for (bool ours = false; !ours;) {
            if (held_ >= 0) ::close(held_);
            path = unfinished_name(place.parent_path(), folder_in_the_making);
            // Past what a process of the same number left behind when it was killed.
            ours = fs::create_directory(path, error);
            if (error) fail(place, why(error));
            held_ = ours ? ::open(path.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC) : -1;
            // Not swept away by somebody in the moment before it was locked.
            if (held_ >= 0) ours = ::flock(held_, LOCK_EX | LOCK_NB) != 0 || fs::exists(path, error);
        }
    }
    UnfinishedFolder(const UnfinishedFolder&) = delete;
    UnfinishedFolder& operator=(const UnfinishedFolder&) = delete;
    ~UnfinishedFolder() {
        std::error_code ignored;
        if (!path.empty()) fs::remove_all(path, ignored);
        if (held_ >= 0) ::close(held_);
    }
    fs::path path;

private:
    int held_ = -1;
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
    settle_what_was_left(place.parent_path());
    const UnfinishedFile unused(place.parent_path() / "unused", place);
}

void write_folder(const fs::path& folder, const std::vector<FolderFile>& files) {
    if (files_are_left_to_another()) return;
    const fs::path place = plain_path(folder);
    expect_folder_writable(place);
    UnfinishedFolder made(place);
    std::error_code error;
    for (const FolderFile& f : files) {
        UnfinishedFile file(made.path / f.name, place / f.name);
        file.write(f.bytes);
        file.finish();
        file.put_in_place();
    }
    const bool there = fs::is_directory(place, error);
    // In one stroke, so that there is never no folder; what was there is then removed as the unfinished one.
    if (there && ::renameat2(AT_FDCWD, made.path.c_str(), AT_FDCWD, place.c_str(), RENAME_EXCHANGE) == 0) return;
    // Nobody but a person removes this one, should we be killed in the middle: it may be the only one.
    const fs::path aside = unfinished_name(place.parent_path(), "before");
    if (there) {
        fs::rename(place, aside, error);
        if (error) fail(place, why(error));
    }
    fs::rename(made.path, place, error);
    if (error) {
        std::error_code ignored;
        if (there) fs::rename(aside, place, ignored);
        fail(place, why(error));
    }
    made.path.clear();
    std::error_code ignored;
    if (there) fs::remove_all(aside, ignored);
}

}  // namespace rushlight
