// Layers kept on disk, so that a question about levels, gels or exposure is answered without tracing again. Every
// entry lies under the fingerprint of all it hangs on, with a checksum of its own: what is stale is not found, what is
// damaged is not used. The whole folder may be deleted at any time; without a folder nothing is kept, and nothing
// fails.
#pragma once

#include "paths/work/team.h"

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

namespace rushlight {

class LayerCache {
public:
    static constexpr std::uintmax_t usual_limit = 2ULL << 30;  // bytes

    /// An empty path keeps nothing. Past `limit` bytes, entries that were not used for longest are thrown out.
    explicit LayerCache(std::filesystem::path folder, std::uintmax_t limit = usual_limit);
    /// In rushlight/layers under $XDG_CACHE_HOME, or under $HOME/.cache (XDG base directory specification); nothing
    /// where neither names a folder.
    /// Several machines use the folder of the first one: what it finds, all find.
    static LayerCache of_this_person(Team* team = nullptr);
    static LayerCache of(Team* team, std::filesystem::path folder, std::uintmax_t limit = usual_limit);

    bool keeps() const { return keeps_; }
    /// The largest entry that is kept: a quarter of the limit.
    std::uintmax_t largest() const { return limit_ / 4; }
    /// Nothing where there is no sound entry.
    std::optional<std::string> find(const std::string& fingerprint) const;
    /// Put in its place whole, or not at all; a full or read-only disk is no error.
    void keep(const std::string& fingerprint, std::string_view bytes) const;
    void forget(const std::string& fingerprint) const;

private:
    std::optional<std::string> look_up(const std::string& fingerprint) const;
    std::filesystem::path place(const std::string& fingerprint) const;
    void throw_out_oldest() const;
    std::filesystem::path folder_;
    std::uintmax_t limit_;
    bool keeps_;
    Team* team_ = nullptr;
};

/// Changes with every build of the program: layers of another one are never used.
const std::string& program_fingerprint();

}  // namespace rushlight
