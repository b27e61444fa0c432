#include "setup/model/gltf_words.h"

#include "setup/model/rough_model.h"
#include "setup/text/where.h"
#include "setup/text/words.h"

#include <algorithm>
#include <array>
#include <cstdint>
#include <string_view>

namespace rushlight {

namespace {

constexpr int deepest = 32;                    // brackets within brackets: shapes take nine
constexpr std::size_t most_words = 2'000'000;  // commas, colons and brackets
constexpr std::size_t most_entries = 200'000;  // nodes, meshes, materials, accessors... of the file, all together

constexpr std::array<std::string_view, 2> idle_anywhere{"extras", "extensions"};
constexpr std::array<std::string_view, 6> idle_at_the_top{"images",  "animations", "skins",
                                                          "cameras", "textures",   "samplers"};

template <std::size_t n>
bool is_among(const std::array<std::string_view, n>& words, std::string_view word) {
    return std::find(words.begin(), words.end(), word) != words.end();
}

/// Where the JSON lies: all of the file, or the first part of a binary one (ISO/IEC 12113, 4.4).
std::pair<std::size_t, std::size_t> words_of(const std::string& bytes) {
    constexpr std::size_t header = 20;
    if (!bytes.starts_with("glTF")) return {0, bytes.size()};
    if (bytes.size() < header) return {bytes.size(), bytes.size()};
    std::size_t length = 0;
    for (std::size_t i = 0; i < 4; ++i)
        length |= static_cast<std::size_t>(static_cast<unsigned char>(bytes[12 + i])) << (8 * i);
    return {header, header + std::min(length, bytes.size() - header)};
}

class Sieve {
public:
    Sieve(std::string& bytes, const std::string& path) : bytes_(bytes), path_(path) {}

    void run() {
        const auto [from, to] = words_of(bytes_);
        if (to - from > largest_gltf_words)
            refuse("found " + plain(static_cast<double>((to - from) / 1'000'000)) + " MB of words, expected up to " +
                   plain(static_cast<double>(largest_gltf_words / 1'000'000)) +
                   " MB: export it as .glb, or with its buffers beside it");
        for (std::size_t i = from; i < to; ++i) {
            const char c = bytes_[i];
            if (c == '"') {
                const std::size_t first = i + 1;
                for (++i; i < to && bytes_[i] != '"'; ++i)
                    if (bytes_[i] == '\\') ++i;
                last_ = std::string_view(bytes_).substr(first, std::min(i, to) - first);
                named_ = false;
            } else if (c == '[' || c == '{') {
                open(i);
            } else if (c == ']' || c == '}') {
                close(i);
            } else if (c == ',' || c == ':') {
                named_ = c == ':';
                if (emptied_from_ == 0) count();
                if (c == ',' && depth_ == 2) ++entries_;
            }
        }
    }

private:
    [[noreturn]] void refuse(const std::string& what) const { throw InputError({path_}, what); }

    void count() {
        if (++words_ > most_words || entries_ > most_entries)
            refuse("found more words than a rough model has any use for, expected fewer nodes, meshes and materials");
    }
    /// What is idle is only counted in, so that its end is found however deep it goes.
    void open(std::size_t at) {
        ++depth_;
        const bool idle =
            named_ && (is_among(idle_anywhere, last_) || (depth_ == 2 && is_among(idle_at_the_top, last_)));
        named_ = false;
        if (emptied_from_ > 0) return;
        if (idle) {
            emptied_from_ = at + 1;
            emptied_depth_ = depth_;
            return;
        }
        count();
        if (depth_ == 2) ++entries_;
        if (depth_ > deepest) refuse("found brackets within brackets without an end, expected a model");
    }
    void close(std::size_t at) {
        if (emptied_from_ > 0 && depth_ == emptied_depth_) {
            std::fill(bytes_.begin() + static_cast<std::ptrdiff_t>(emptied_from_),
                      bytes_.begin() + static_cast<std::ptrdiff_t>(at), ' ');
            emptied_from_ = 0;
        }
        --depth_;
        named_ = false;
    }

    std::string& bytes_;
    const std::string& path_;
    std::string_view last_;  // string
    bool named_ = false;     // a colon stands after it
    std::int64_t depth_ = 0;
    std::size_t words_ = 0, entries_ = 0;
    std::size_t emptied_from_ = 0;
    std::int64_t emptied_depth_ = 0;
};

}  // namespace

void keep_words_of_shapes(std::string& bytes, const std::string& path) {
    Sieve(bytes, path).run();
}

}  // namespace rushlight
