#include "desk/document/shared_file.h"

#include "pictures/files/write_file.h"
#include "setup/text/file_text.h"
#include "setup/text/where.h"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <atomic>
#include <cerrno>
#include <cstdint>
#include <cstdio>
#include <system_error>
#include <utility>

namespace rushlight::desk {

namespace {

namespace fs = std::filesystem;
using Time = std::chrono::steady_clock;

// What was taken out is watched for so long: a program may have it open and write into it still.
constexpr auto watched_for = std::chrono::milliseconds(1500), at_rest = std::chrono::milliseconds(150);
constexpr std::size_t most_watched = 64, most_watched_bytes = std::size_t{8} << 20;

constexpr const char* begins_beside = ".rushlight-";

[[noreturn]] void cannot_write(const fs::path& path, int reason) {
    std::string why = std::generic_category().message(reason);
    if (reason == ENOENT || reason == ENOTDIR) why = "its folder is gone";
    if (reason == EACCES || reason == EROFS || reason == EPERM) why = "no right to write in its folder";
    if (reason == ENOSPC || reason == EDQUOT) why = "the disk is full";
    if (reason == EFBIG) why = "the file would be larger than is allowed here";
    throw OutputError("cannot write " + path.filename().string() + ": " + why);
}

OnDisk unreadable(const fs::path& path, const std::string& why) {
    return {OnDisk::Kind::unreadable, path.filename().string() + ": " + why};
}

/// All bytes from the start, wherever others have got to.
std::string bytes_of(const OpenFile& file) {
    std::string bytes;
    constexpr std::size_t block = 1 << 16;
    for (;;) {
        const std::size_t before = bytes.size();
        bytes.resize(before + block);
        const ssize_t n = ::pread(file.number(), bytes.data() + before, block, static_cast<off_t>(before));
        if (n < 0 && errno == EINTR) bytes.resize(before);
        if (n < 0 && errno == EINTR) continue;
        bytes.resize(before + static_cast<std::size_t>(std::max<ssize_t>(n, 0)));
        if (n <= 0 || bytes.size() > largest_setup_file) return bytes;
    }
}

/// Without waiting for anybody, whatever stands there: a pipe would wait for ever.
OnDisk found_at(const fs::path& path, OpenFile* keep = nullptr) {
    struct stat is {};
    if (::stat(path.c_str(), &is) != 0) {
        if (errno == ENOENT || errno == ENOTDIR) return {OnDisk::Kind::gone, ""};
        return unreadable(path, errno == ELOOP ? "this is a link to itself" : "no right to look at it");
    }
    if (S_ISDIR(is.st_mode)) return unreadable(path, "this is a folder; expected a set-up file");
    if (!S_ISREG(is.st_mode)) return unreadable(path, "this is no plain file; expected a set-up file");
    OpenFile file(::open(path.c_str(), O_RDONLY | O_NONBLOCK | O_NOCTTY | O_CLOEXEC));
    if (!file && errno == ENOENT) return {OnDisk::Kind::gone, ""};
    if (!file || ::fstat(file.number(), &is) != 0 || !S_ISREG(is.st_mode))
        return unreadable(path, "the file cannot be read");
    if (static_cast<std::size_t>(is.st_size) > largest_setup_file)
        return unreadable(
            path, "the file has " + std::to_string(is.st_size / 1'000'000) + " MB; expected no more than 16 MB");
    OnDisk found{OnDisk::Kind::text, bytes_of(file)};
    if (keep) *keep = std::move(file);
    return found;
}

/// A new file with all of `text` safely on the disk. It has no name yet where the file system can do that, so that
/// nothing is left behind by a program that is killed; else it is called `beside`.
OpenFile written(const fs::path& path, const fs::path& beside, const std::string& text, bool& named) {
    const fs::path folder = path.parent_path();
    OpenFile file(::open(folder.c_str(), O_TMPFILE | O_RDWR | O_CLOEXEC, 0666));
    named = !file && (errno == EOPNOTSUPP || errno == EISDIR || errno == EINVAL);
    if (named) file = OpenFile(::open(beside.c_str(), O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC, 0666));
    if (!file) cannot_write(path, errno);
    const auto fail = [&](int reason) {
        if (named) ::unlink(beside.c_str());
        cannot_write(path, reason);
    };
    // Who may read what was there may read what comes. A file system without rights has none to keep.
    struct stat old {};
    if (::stat(path.c_str(), &old) == 0 && S_ISREG(old.st_mode)) {
        static_cast<void>(::fchown(file.number(), old.st_uid, old.st_gid) == 0);
        static_cast<void>(::fchmod(file.number(), old.st_mode & 07777U) == 0);
    }
    for (std::size_t at = 0; at < text.size();) {
        const ssize_t n = ::write(file.number(), text.data() + at, text.size() - at);
        if (n < 0 && errno == EINTR) continue;
        if (n < 0) fail(errno);
        at += static_cast<std::size_t>(n);
    }
    if (::fsync(file.number()) != 0 && errno != EINVAL) fail(errno);
    return file;
}

/// The file's name, too, is on the disk only when its folder is.
void keep_folder(const fs::path& path) {
    const OpenFile folder(::open(path.parent_path().c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
    if (folder) static_cast<void>(::fsync(folder.number()) == 0);
}

/// Both names change places in one step; 0, or why not. A file system that cannot do that takes three steps, between
/// which a change made by somebody else is not noticed.
int exchange(const fs::path& beside, const fs::path& path) {
    if (::renameat2(AT_FDCWD, beside.c_str(), AT_FDCWD, path.c_str(), RENAME_EXCHANGE) == 0) return 0;
    if (errno != EINVAL && errno != ENOSYS && errno != EOPNOTSUPP) return errno;
    fs::path third = beside;
    third += ".old";
    const bool linked = ::link(path.c_str(), third.c_str()) == 0;
    if (::rename(beside.c_str(), path.c_str()) != 0) {
        const int reason = errno;
        if (linked) ::unlink(third.c_str());
        return reason;
    }
    if (linked) ::rename(third.c_str(), beside.c_str());
    return 0;
}

bool same_file(const struct stat& a, const struct stat& b) {
    return a.st_dev == b.st_dev && a.st_ino == b.st_ino;
}

}  // namespace

OpenFile::OpenFile(OpenFile&& other) noexcept : number_(std::exchange(other.number_, -1)) {}

OpenFile& OpenFile::operator=(OpenFile&& other) noexcept {
    std::swap(number_, other.number_);
    return *this;
}

OpenFile::~OpenFile() {
    if (number_ >= 0) ::close(number_);
}

SharedFile::SharedFile(const fs::path& path) : path_(path) {
    // Written through a link, the file that it leads to is meant.
    std::error_code failed;
    if (const auto real = fs::canonical(path, failed); !failed) path_ = real;
    if (!hold())
        throw InputError(Where{path.string()},
                         "another desk has this file open; end that one first, or go on there with a fresh link");
}

/// Locks what lies at the path now. False where another desk has.
bool SharedFile::hold() {
    for (;;) {
        struct stat is {
        }, ours{};
        if (::stat(path_.c_str(), &is) != 0 || !S_ISREG(is.st_mode)) return true;  // nothing to hold
        if (held_ && ::fstat(held_.number(), &ours) == 0 && same_file(is, ours)) return true;
        OpenFile file(::open(path_.c_str(), O_RDONLY | O_NONBLOCK | O_NOCTTY | O_CLOEXEC));
        if (!file) return true;  // another has no right to it either
        if (::flock(file.number(), LOCK_EX | LOCK_NB) != 0 && errno == EWOULDBLOCK) return false;
        held_ = std::move(file);  // looked at again: it may have been replaced meanwhile
    }
}

OnDisk SharedFile::look() {
    with_another_ = !hold();
    return found_at(path_);
}

/// By the file's name, which may itself be as long as a name can be: FNV-1a.
std::string SharedFile::ending_beside() const {
    std::uint32_t hash = 2166136261U;
    for (const char c : path_.filename().string()) hash = (hash ^ static_cast<unsigned char>(c)) * 16777619U;
    return "-" + std::to_string(hash) + ".desk";
}

fs::path SharedFile::name_beside() const {
    static std::atomic<unsigned> count{0};
    fs::path name = path_;
    name.replace_filename(begins_beside + std::to_string(::getpid()) + "-" + std::to_string(count++) + ending_beside());
    return name;
}

std::vector<fs::path> SharedFile::left_behind() const {
    std::vector<fs::path> all;
    const std::string ending = ending_beside();
    std::error_code failed;
    for (fs::directory_iterator i(path_.parent_path(), failed), end; !failed && i != end; i.increment(failed)) {
        const std::string name = i->path().filename().string();
        if (name.rfind(begins_beside, 0) == 0 && name.size() > ending.size() &&
            name.compare(name.size() - ending.size(), ending.size(), ending) == 0)
            all.push_back(i->path());
    }
    return all;
}

bool SharedFile::replace(const OnDisk& expected, const std::string& text) {
    if (found_at(path_) != expected || expected.kind == OnDisk::Kind::unreadable) return false;
    const fs::path beside = name_beside();
    bool named = false;
    OpenFile ours = written(path_, beside, text, named);
    static_cast<void>(::flock(ours.number(), LOCK_EX | LOCK_NB) == 0);
    const bool is_new = expected.kind == OnDisk::Kind::gone;
    const fs::path& name = is_new ? path_ : beside;
    if (!named) {
        const std::string unnamed = "/proc/self/fd/" + std::to_string(ours.number());
        if (::linkat(AT_FDCWD, unnamed.c_str(), AT_FDCWD, name.c_str(), AT_SYMLINK_FOLLOW) != 0) {
            if (is_new && errno == EEXIST) return false;
            cannot_write(path_, errno);
        }
    } else if (is_new) {
        const int reason = ::link(beside.c_str(), path_.c_str()) == 0 ? 0 : errno;
        ::unlink(beside.c_str());
        if (reason == EEXIST) return false;
        if (reason != 0) cannot_write(path_, reason);
    }
    if (is_new) {
        held_ = std::move(ours);
        keep_folder(path_);
        return true;
    }
    if (const int reason = exchange(beside, path_); reason != 0) {
        ::unlink(beside.c_str());
        if (reason == ENOENT) return false;  // gone in the last moment
        cannot_write(path_, reason);
    }
    OpenFile old;
    OnDisk out = found_at(beside, &old);
    const bool good = out == expected || (out.kind == OnDisk::Kind::gone && expected.kind == OnDisk::Kind::text);
    if (!good) {
        put_back(beside, std::move(out), text);
        return false;
    }
    ::unlink(beside.c_str());
    held_ = std::move(ours);
    keep_folder(path_);
    if (old) {
        const std::size_t most = std::min(most_watched, 1 + most_watched_bytes / (1 + expected.text.size()));
        while (taken_out_.size() >= most) taken_out_.erase(taken_out_.begin());
        taken_out_.push_back({std::move(old), expected.text, expected.text, Time::now()});
    }
    return true;
}

/// Somebody wrote in the last moment: theirs, which is `beside` now, goes back. Whoever writes while that is done is
/// newer still, and stays.
void SharedFile::put_back(const fs::path& beside, OnDisk theirs, const std::string& ours) {
    OnDisk newest = std::move(theirs), other{OnDisk::Kind::text, ours};
    constexpr int tries = 1000;
    for (int i = 0; i < tries; ++i) {
        if (exchange(beside, path_) != 0) {  // the other has removed the file since
            ::rename(beside.c_str(), path_.c_str());
            return;
        }
        OnDisk out = found_at(beside);
        if (out == other) break;
        other = std::exchange(newest, std::move(out));
    }
    // Written over by a newer one, whose author may have seen ours.
    if (other.kind == OnDisk::Kind::text && other.text != ours) overwritten_.push_back({ours, other.text});
    struct stat is {};
    if (::lstat(beside.c_str(), &is) == 0 && S_ISREG(is.st_mode)) ::unlink(beside.c_str());
}

std::optional<SharedFile::Late> SharedFile::written_late() {
    if (!overwritten_.empty()) {
        Late late = std::move(overwritten_.back());
        overwritten_.pop_back();
        return late;
    }
    const auto now = Time::now();
    for (auto one = taken_out_.begin(); one != taken_out_.end();) {
        std::string is = bytes_of(one->file);
        if (is != one->seen) {
            one->seen = std::move(is);
            one->since = now;
        } else if (is != one->text && now - one->since > at_rest) {
            Late late{std::move(one->text), std::move(is)};
            taken_out_.erase(one);
            return late;
        }
        one = now - one->since > watched_for ? taken_out_.erase(one) : one + 1;
    }
    return std::nullopt;
}

}  // namespace rushlight::desk
