#include "pictures/files/write_file.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <atomic>
#include <cerrno>
#include <string>
#include <system_error>

namespace rushlight {
namespace {

namespace fs = std::filesystem;

bool left_to_another = false;

[[noreturn]] void fail(const fs::path& path, int reason) {
    std::string why = std::generic_category().message(reason);
    std::error_code ignored;
    const fs::path folder = path.has_parent_path() ? path.parent_path() : fs::path(".");
    if (reason == ENOENT) why = "the folder '" + folder.string() + "' does not exist";
    if (reason == ENOTDIR) why = "'" + folder.string() + "' is not a folder";
    if (reason == EACCES || reason == EROFS) why = "no right to write in the folder '" + folder.string() + "'";
    if (reason == EISDIR || fs::is_directory(path, ignored)) why = "a folder of that name is in the way";
    if (reason == ENOSPC || reason == EDQUOT) why = "the disk is full";
    if (reason == ENAMETOOLONG) why = "the name is longer than can be written there";
    if (reason == EFBIG) why = "the file would be larger than is allowed here";
    throw OutputError("cannot write '" + path.string() + "': " + why);
}

// The unfinished file: closed and removed unless it was put in its place.
class Unfinished {
public:
    explicit Unfinished(const fs::path& place) : place_(place) {
        static std::atomic<unsigned> count{0};
        beside_ = place;
        do {
            // Not with the place's own name, which may be as long as a name can be; and past what a process of the same
            // number left behind when it was killed.
            beside_.replace_filename(".rushlight-" + std::to_string(::getpid()) + "-" + std::to_string(count++) +
                                     ".partial");
            file_ = ::open(beside_.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
        } while (file_ < 0 && errno == EEXIST);
        if (file_ < 0) fail(place_, errno);
        // Who may read what was there may read what comes. A file system without rights has none to keep.
        struct stat old {};
        if (::stat(place.c_str(), &old) == 0 && S_ISREG(old.st_mode))
            static_cast<void>(::fchmod(file_, old.st_mode & 07777U) == 0);
    }
    Unfinished(const Unfinished&) = delete;
    Unfinished& operator=(const Unfinished&) = delete;
    ~Unfinished() {
        if (file_ >= 0) ::close(file_);
        if (!placed_) ::unlink(beside_.c_str());
    }
    void write(std::string_view bytes) {
        while (!bytes.empty()) {
            const ssize_t n = ::write(file_, bytes.data(), bytes.size());
            if (n < 0 && errno == EINTR) continue;
            if (n < 0) fail(place_, errno);
            bytes.remove_prefix(static_cast<std::size_t>(n));
        }
    }
    void put_in_place() {
        // Some file systems say only here that there was no room.
        if (::fsync(file_) != 0 && errno != EINVAL) fail(place_, errno);
        const int closed = ::close(file_);
        file_ = -1;
        if (closed != 0) fail(place_, errno);
        if (::rename(beside_.c_str(), place_.c_str()) != 0) fail(place_, errno);
        placed_ = true;
    }

private:
    fs::path place_, beside_;
    int file_ = -1;
    bool placed_ = false;
};

}  // namespace

void leave_files_to_another() {
    left_to_another = true;
}
bool files_are_left_to_another() {
    return left_to_another;
}

void expect_writable(const fs::path& path) {
    if (left_to_another) return;
    if (!path.has_filename()) throw OutputError("cannot write '" + path.string() + "': a file name is missing");
    std::error_code ignored;
    if (fs::is_directory(path, ignored)) fail(path, EISDIR);
    Unfinished unused(path);
}

void write_file(const fs::path& path, std::string_view bytes) {
    if (left_to_another) return;
    if (!path.has_filename()) throw OutputError("cannot write '" + path.string() + "': a file name is missing");
    Unfinished file(path);
    file.write(bytes);
    file.put_in_place();
}

}  // namespace rushlight
