#include "setup/picture/png_chunks.h"

#include <algorithm>
#include <array>
#include <cstdint>
#include <string_view>

namespace rushlight {

namespace {

constexpr std::string_view signature("\x89PNG\r\n\x1a\n", 8);

std::uint32_t number_at(std::string_view bytes, std::size_t at) {
    std::uint32_t n = 0;
    for (std::size_t i = 0; i < 4; ++i) n = n << 8 | static_cast<unsigned char>(bytes[at + i]);
    return n;
}

/// ISO/IEC 15948, annex D.
std::uint32_t checksum(std::string_view bytes) {
    static const std::array<std::uint32_t, 256> table = [] {
        std::array<std::uint32_t, 256> t{};
        for (std::uint32_t n = 0; n < 256; ++n) {
            t[n] = n;
            for (int k = 0; k < 8; ++k) t[n] = (t[n] & 1) != 0 ? 0xEDB88320U ^ (t[n] >> 1) : t[n] >> 1;
        }
        return t;
    }();
    std::uint32_t sum = 0xFFFFFFFFU;
    for (const char c : bytes) sum = table[(sum ^ static_cast<unsigned char>(c)) & 0xFF] ^ (sum >> 8);
    return ~sum;
}

constexpr std::uint32_t longest = 1'000'000;  // pixels: the library takes no more either way

/// The head (11.2.2): its size, and a depth that its kind of colour may have.
bool is_sound_head(std::string_view head) {
    if (head.size() != 13) return false;
    const std::uint32_t width = number_at(head, 0), height = number_at(head, 4);
    const int depth = head[8], colour = head[9];
    const bool deep = depth == 8 || depth == 16, shallow = depth == 1 || depth == 2 || depth == 4;
    const bool fits = colour == 0                                 ? deep || shallow
                      : colour == 3                               ? depth == 8 || shallow
                      : colour == 2 || colour == 4 || colour == 6 ? deep
                                                                  : false;
    return fits && width > 0 && height > 0 && width <= longest && height <= longest && head[10] == 0 && head[11] == 0 &&
           (head[12] == 0 || head[12] == 1);
}

}  // namespace

bool is_png(const std::string& bytes) {
    return bytes.starts_with(signature);
}

std::string plain_png(const std::string& bytes, std::string& trouble) {
    const std::string_view all(bytes);
    std::string plain(signature);
    int colour = -1;
    std::size_t entries = 0;  // of the palette
    bool has_pixels = false;
    trouble = "it is damaged";
    for (std::size_t at = signature.size();;) {
        if (all.size() - at < 12 || number_at(all, at) > all.size() - at - 12) {
            trouble = "it is cut off";
            return plain;
        }
        const std::size_t length = number_at(all, at);
        const std::string_view chunk = all.substr(at, length + 12), kind = chunk.substr(4, 4),
                               data = chunk.substr(8, length);
        if (checksum(chunk.substr(4, length + 4)) != number_at(chunk, length + 8)) return plain;
        at += chunk.size();
        if ((kind == "IHDR") != (colour < 0)) return plain;  // first, and once
        bool kept = false;
        if (kind == "IHDR") {
            if (!is_sound_head(data)) return plain;
            colour = data[9];
            kept = true;
        } else if (kind == "PLTE" && !has_pixels && colour != 0 && colour != 4) {
            if (length == 0 || length % 3 != 0 || length > 768 || entries > 0) return plain;
            entries = length / 3;
            kept = true;
        } else if (kind == "tRNS" && !has_pixels) {
            kept = colour == 0   ? length == 2
                   : colour == 2 ? length == 6
                                 : colour == 3 && length > 0 && length <= entries;
        } else if (kind == "IDAT") {
            has_pixels = kept = true;
        } else if (kind == "eXIf") {
            kept = !has_pixels;  // which way up it was held
        } else if (kind == "IEND") {
            plain += chunk;
            if (has_pixels && (colour != 3 || entries > 0)) trouble.clear();
            return plain;
        }
        if (kept) plain += chunk;
    }
}

}  // namespace rushlight
