#include "pictures/files/unfinished_file.h"

#include "pictures/files/write_file.h"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <atomic>
#include <cerrno>
#include <system_error>

namespace rushlight {

namespace {

namespace fs = std::filesystem;

fs::path folder_of(const fs::path& path) {
    return path.has_parent_path() ? path.parent_path() : fs::path(".");
}

/// Locked, and not swept away by somebody in the moment before it was. A file system without locks has no sweepers.
bool held(int file) {
    static_cast<void>(::flock(file, LOCK_EX | LOCK_NB) == 0);
    struct stat now {};
    return ::fstat(file, &now) == 0 && now.st_nlink > 0;
}

}  // namespace

fs::path unfinished_name(const fs::path& folder, std::string_view ending) {
    static std::atomic<unsigned> count{0};
    return folder /
           (".rushlight-" + std::to_string(::getpid()) + "-" + std::to_string(count++) + "." + std::string(ending));
}

void cannot_write(const fs::path& path, int reason) {
    std::string why = std::generic_category().message(reason);
    std::error_code ignored;
    const fs::path folder = folder_of(path);
    if (reason == ENOENT)
        why = fs::is_directory(folder, ignored) ? "no file can be made in the folder '" + folder.string() + "'"
                                                : "the folder '" + folder.string() + "' does not exist";
    if (reason == ENOTDIR) why = "'" + folder.string() + "' is not a folder";
    if (reason == EACCES || reason == EROFS) why = "no right to write in the folder '" + folder.string() + "'";
    if (reason == EISDIR) why = "a folder of that name is in the way";
    if (reason == ENOSPC || reason == EDQUOT) why = "the disk is full";
    if (reason == ENAMETOOLONG) why = "the name is longer than can be written there";
    if (reason == EFBIG) why = "the file would be larger than is allowed here";
    throw OutputError("cannot write '" + path.string() + "': " + why);
}

fs::path place_for(const fs::path& path) {
    const auto refuse = [&](const char* why) { throw OutputError("cannot write '" + path.string() + "': " + why); };
    if (!path.has_filename()) refuse("a file name is missing");
    fs::path place = path;
    std::error_code failed;
    if (fs::is_symlink(path, failed)) {
        place = fs::canonical(path, failed);
        if (failed) refuse("it is a link that leads nowhere");
    }
    const fs::file_status there = fs::status(place, failed);
    if (fs::is_directory(there)) cannot_write(path, EISDIR);
    if (fs::exists(there) && !fs::is_regular_file(there))
        refuse("it is a device or a pipe and no plain file; choose another name");
    return place;
}

UnfinishedFile::UnfinishedFile(const fs::path& place, const fs::path& told) : place_(place), told_(told) {
    do {
        if (file_ >= 0) ::close(file_);
        // Not with the place's own name, which may be as long as a name can be; and past what a process of the same
        // number left behind when it was killed.
        beside_ = unfinished_name(place.parent_path(), partial_file);
        file_ = ::open(beside_.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    } while (file_ < 0 ? errno == EEXIST : !held(file_));
    if (file_ < 0) cannot_write(told_, errno);
    // Who may read what was there may read what comes. A file system without rights has none to keep.
    struct stat old {};
    if (::stat(place.c_str(), &old) == 0 && S_ISREG(old.st_mode))
        static_cast<void>(::fchmod(file_, old.st_mode & 07777U) == 0);
}

UnfinishedFile::~UnfinishedFile() {
    if (!placed_) ::unlink(beside_.c_str());
    if (file_ >= 0) ::close(file_);
}

void UnfinishedFile::write(std::string_view bytes) {
    while (!bytes.empty()) {
        const ssize_t n = ::write(file_, bytes.data(), bytes.size());
        if (n < 0 && errno == EINTR) continue;
        if (n < 0) cannot_write(told_, errno);
        bytes.remove_prefix(static_cast<std::size_t>(n));
    }
}

void UnfinishedFile::finish() {
    // Some file systems say only here that there was no room, and some only when the file is closed: it is closed, and
    // held by another hand until it is in its place.
    if (::fsync(file_) != 0 && errno != EINVAL) cannot_write(told_, errno);
    const int other_hand = ::fcntl(file_, F_DUPFD_CLOEXEC, 0);
    const int closed = ::close(file_);
    const int reason = errno;
    file_ = other_hand;
    if (closed != 0) cannot_write(told_, reason);
}

void UnfinishedFile::put_in_place() {
    if (::rename(beside_.c_str(), place_.c_str()) != 0) cannot_write(told_, errno);
    placed_ = true;
}

}  // namespace rushlight
