#include "setup/text/whole_file.h"

#include "setup/text/inputs.h"
#include "setup/text/where.h"
#include "setup/text/words.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cmath>

namespace rushlight {

namespace {

[[noreturn]] void refuse_size(const std::string& path, double size, std::size_t most) {
    throw InputError(Where{path}, "the file has " + plain(std::ceil(size / 1e5) / 10) + " MB; expected no more than " +
                                      plain(static_cast<double>(most) / 1e6) + " MB");
}

/// Closed when it is done with.
struct OpenFile {
    int number;
    explicit OpenFile(const std::string& path)
        // Nothing is waited for: some files of the system only look like plain ones.
        : number(::open(path.c_str(), O_RDONLY | O_NONBLOCK | O_CLOEXEC | O_NOCTTY)) {}
    OpenFile(const OpenFile&) = delete;
    OpenFile& operator=(const OpenFile&) = delete;
    ~OpenFile() {
        if (number >= 0) ::close(number);
    }
};

}  // namespace

std::string trouble_with_file(const std::string& path) {
    if (path.find('\0') != std::string::npos) return "no file has a byte 0x00 in its name";
    struct stat found {};
    if (::stat(path.c_str(), &found) != 0) {
        if (errno == ELOOP) return "this is a link that leads back to itself";
        if (errno == EACCES) return "you have no right to look into its folder";
        if (errno == ENAMETOOLONG) return "its name is too long for a file";
        return no_such_file;
    }
    if (S_ISDIR(found.st_mode)) return "this is a folder";
    if (S_ISFIFO(found.st_mode)) return "this is a pipe and no plain file";
    if (S_ISCHR(found.st_mode) || S_ISBLK(found.st_mode)) return "this is a device and no plain file";
    if (!S_ISREG(found.st_mode)) return "this is no plain file";
    if (::access(path.c_str(), R_OK) != 0) return "you have no right to read it";
    return "";
}

std::size_t file_size_within(const std::string& path, std::size_t most, const std::string& expected) {
    remember_input(path);
    if (const std::string trouble = trouble_with_file(path); !trouble.empty())
        throw InputError(Where{path}, trouble + "; expected " + expected);
    struct stat found {};
    if (::stat(path.c_str(), &found) != 0) throw InputError(Where{path}, "the file cannot be read");
    if (static_cast<std::uintmax_t>(found.st_size) > most) refuse_size(path, static_cast<double>(found.st_size), most);
    return static_cast<std::size_t>(found.st_size);
}

std::string whole_file(const std::string& path, std::size_t most, const std::string& expected) {
    std::string bytes;
    // What has no length has nothing to read, though the system may have much to say under that name.
    if (file_size_within(path, most, expected) == 0) return bytes;
    const OpenFile file(path);
    struct stat found {};
    if (file.number < 0 || ::fstat(file.number, &found) != 0 || !S_ISREG(found.st_mode))
        throw InputError(Where{path}, "the file cannot be read");
    // It may grow while it is read.
    constexpr std::size_t block = 1 << 20;
    std::size_t length = 0;
    bytes.reserve(std::min(most, static_cast<std::size_t>(found.st_size)) + 1);
    while (length <= most) {
        bytes.resize(length + std::min(block, most + 1 - length));
        const ssize_t got = ::read(file.number, bytes.data() + length, bytes.size() - length);
        if (got < 0 && errno == EINTR) continue;
        if (got < 0) throw InputError(Where{path}, "the file cannot be read");
        if (got == 0) break;
        length += static_cast<std::size_t>(got);
    }
    if (length > most) refuse_size(path, static_cast<double>(length), most);
    bytes.resize(length);
    return bytes;
}

}  // namespace rushlight
