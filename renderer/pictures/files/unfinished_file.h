// A file that is being written, beside the place that it is for and under another name. While its process lives it is
// locked, so that nobody takes it for one that a killed process left.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>

namespace rushlight {

/// The name of something unfinished in `folder`: ".rushlight-PROCESS-NUMBER.ENDING", another number each time.
std::filesystem::path unfinished_name(const std::filesystem::path& folder, std::string_view ending);
inline constexpr std::string_view partial_file = "partial", folder_in_the_making = "making", decided = "decided";

/// Throws the OutputError that says in people's words why `path` cannot be written.
[[noreturn]] void cannot_write(const std::filesystem::path& path, int reason);

/// Where bytes for `path` go: where its link leads, if it is one. Throws OutputError where something is in the way
/// that is no plain file: a folder, a device, a pipe, a link that leads nowhere.
std::filesystem::path place_for(const std::filesystem::path& path);

/// Closed and removed unless it was put in its place. Throws OutputErrors, which speak of `told`.
class UnfinishedFile {
public:
    UnfinishedFile(const std::filesystem::path& place, const std::filesystem::path& told);
    UnfinishedFile(const UnfinishedFile&) = delete;
    UnfinishedFile& operator=(const UnfinishedFile&) = delete;
    ~UnfinishedFile();

    void write(std::string_view bytes);
    /// All of it is on the disk.
    void finish();
    void put_in_place();
    /// From now on it is not removed, whatever happens: it is decided that it will be put in its place.
    void leave() { placed_ = true; }

    const std::filesystem::path& place() const { return place_; }
    const std::filesystem::path& beside() const { return beside_; }

private:
    std::filesystem::path place_, told_, beside_;
    int file_ = -1;
    bool placed_ = false;
};

}  // namespace rushlight
