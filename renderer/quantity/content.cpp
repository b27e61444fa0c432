#include "quantity/content.h"

#include <xxhash.h>

namespace rushlight {

std::string fingerprint(std::string_view bytes) {
    const XXH128_hash_t hash = XXH3_128bits(bytes.data(), bytes.size());
    constexpr const char* digits = "0123456789abcdef";
    std::string text;
    for (const XXH64_hash_t half : {hash.high64, hash.low64})
        for (int shift = 60; shift >= 0; shift -= 4) text += digits[(half >> shift) & 15U];
    return text;
}

}  // namespace rushlight
