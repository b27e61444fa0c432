// A file that others write, too. What stands in it is only replaced by somebody who has seen it: the new text takes its
// place in one step, what came out is looked at, and goes back if it is not what was expected.
#pragma once

#include <chrono>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace rushlight::desk {

/// Closed when it goes.
class OpenFile {
public:
    explicit OpenFile(int number = -1) : number_(number) {}
    OpenFile(OpenFile&& other) noexcept;
    OpenFile& operator=(OpenFile&& other) noexcept;
    ~OpenFile();
    int number() const { return number_; }
    explicit operator bool() const { return number_ >= 0; }

private:
    int number_;
};

/// What stands at a place on the disk.
struct OnDisk {
    enum class Kind { text, gone, unreadable } kind = Kind::gone;
    std::string text;  // of unreadable: the one line why
    bool operator==(const OnDisk&) const = default;
};

class SharedFile {
public:
    /// Holds the file against other desks of this machine as long as it lives, by a lock on the file itself
    /// (flock); a file system without locks has none. Throws InputError where another desk holds it.
    explicit SharedFile(const std::filesystem::path& path);

    const std::filesystem::path& path() const { return path_; }
    OnDisk look();
    /// Puts `text` there, if `expected` stands there. False where something else does: then that stays, whoever wrote
    /// it and however late. Throws OutputError where it cannot be written, and then the old file is as it was.
    bool replace(const OnDisk& expected, const std::string& text);
    /// What a program wrote into the file that it had opened before it was replaced: what it held then, and holds now.
    /// Told once, when that program has been at rest for a moment.
    struct Late {
        std::string before, after;
    };
    std::optional<Late> written_late();
    /// What a desk that was killed in the middle of writing this file has left beside it.
    std::vector<std::filesystem::path> left_behind() const;
    /// Whether somebody else put a file there that another desk has open.
    bool is_with_another_desk() const { return with_another_; }

private:
    struct TakenOut {
        OpenFile file;
        std::string text, seen;                       // when it was taken out, and at the last look
        std::chrono::steady_clock::time_point since;  // it was seen to change
    };
    bool hold();
    std::string ending_beside() const;
    std::filesystem::path name_beside() const;
    void put_back(const std::filesystem::path& beside, OnDisk theirs, const std::string& ours);

    std::filesystem::path path_;
    OpenFile held_;
    bool with_another_ = false;
    std::vector<TakenOut> taken_out_;
    std::vector<Late> overwritten_;
};

}  // namespace rushlight::desk
