#include "pictures/files/left_behind.h"

#include "pictures/files/unfinished_file.h"
#include "pictures/files/write_file.h"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <memory>
#include <string_view>

namespace rushlight {

namespace {

namespace fs = std::filesystem;

constexpr std::string_view first_line = "rushlight decided 1";

/// Something that a process of one's own left, and that no living process holds; as long as this lives, it is held.
class Left {
public:
    Left(const fs::path& path, bool folder) {
        constexpr int usual = O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC;
        file_ = ::open(path.c_str(), usual | (folder ? O_DIRECTORY : 0));
        struct stat it {};
        dead_ = file_ >= 0 && ::fstat(file_, &it) == 0 && (folder ? S_ISDIR(it.st_mode) : S_ISREG(it.st_mode)) &&
                it.st_uid == ::geteuid() && ::flock(file_, LOCK_EX | LOCK_NB) == 0;
    }
    Left(const Left&) = delete;
    Left& operator=(const Left&) = delete;
    ~Left() {
        if (file_ >= 0) ::close(file_);
    }
    bool dead() const { return dead_; }
    /// Its first bytes: a decision is short.
    std::string text() const {
        std::string bytes(64 * 1024, '\0');
        const ssize_t n = ::read(file_, bytes.data(), bytes.size());
        bytes.resize(static_cast<std::size_t>(std::max<ssize_t>(n, 0)));
        return bytes;
    }

private:
    int file_ = -1;
    bool dead_ = false;
};

/// ".rushlight-12-3.partial" and the like.
bool is_unfinished(std::string_view name, std::string_view ending) {
    constexpr std::string_view begins = ".rushlight-";
    if (name.substr(0, begins.size()) != begins) return false;
    name.remove_prefix(begins.size());
    const std::size_t dot = name.find('.');
    return dot != std::string_view::npos && name.substr(dot + 1) == ending &&
           name.substr(0, dot).find_first_not_of("0123456789-") == std::string_view::npos;
}

/// A name in this folder, and not of another one.
bool is_plain_name(const std::string& name) {
    return !name.empty() && name != "." && name != ".." && name.find('/') == std::string::npos;
}

/// Lines end with a NUL, as names may hold all else.
std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::size_t from = 0;
    for (std::size_t end; (end = text.find('\0', from)) != std::string::npos; from = end + 1)
        lines.push_back(text.substr(from, end - from));
    return lines;
}

void finish(const fs::path& folder, const std::string& text) {
    const std::vector<std::string> lines = lines_of(text);
    if (lines.empty() || lines[0] != first_line) return;
    for (std::size_t i = 1; i + 1 < lines.size(); i += 2) {
        if (!is_unfinished(lines[i], partial_file) || !is_plain_name(lines[i + 1])) continue;
        std::error_code gone;  // it was put in its place before
        if (!fs::is_regular_file(fs::symlink_status(folder / lines[i], gone))) continue;
        fs::rename(folder / lines[i], folder / lines[i + 1], gone);
    }
}

std::vector<fs::path> entries(const fs::path& folder, std::string_view ending) {
    std::vector<fs::path> found;
    std::error_code failed;
    for (auto it = fs::directory_iterator(folder, failed); !failed && it != fs::directory_iterator();
         it.increment(failed))
        if (is_unfinished(it->path().filename().native(), ending)) found.push_back(it->path());
    return found;
}

}  // namespace

void settle_what_was_left(const fs::path& in) {
    if (files_are_left_to_another()) return;
    const fs::path folder = in.empty() ? fs::path(".") : in;
    // One at a time: what one finishes, another must not sweep away. Writers do not wait for this.
    const int whole = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (whole < 0) return;
    if (::flock(whole, LOCK_EX | LOCK_NB) == 0) {
        std::error_code ignored;
        // Whoever is dead by now has decided whatever it decided: only after this are decisions looked for.
        std::vector<std::pair<fs::path, std::unique_ptr<Left>>> dead;
        for (const fs::path& path : entries(folder, partial_file))
            if (auto left = std::make_unique<Left>(path, false); left->dead()) dead.emplace_back(path, std::move(left));
        for (const fs::path& path : entries(folder, decided)) {
            const Left left(path, false);
            if (!left.dead()) continue;
            finish(folder, left.text());
            fs::remove(path, ignored);
        }
        for (const auto& [path, left] : dead) fs::remove(path, ignored);
        for (const fs::path& path : entries(folder, folder_in_the_making))
            if (const Left left(path, true); left.dead()) fs::remove_all(path, ignored);
    }
    ::close(whole);
}

std::string decision_text(const std::vector<fs::path>& beside, const std::vector<fs::path>& places) {
    std::string text = std::string(first_line) + '\0';
    for (std::size_t i = 0; i < beside.size(); ++i)
        text += beside[i].filename().string() + '\0' + places[i].filename().string() + '\0';
    return text;
}

}  // namespace rushlight
