#include "fuzz/generators.h"

#include <algorithm>

namespace rushlight::fuzz {

namespace {

std::string in_four(std::uint32_t n, bool large_end_first) {
    std::string bytes;
    for (int i = 0; i < 4; ++i) bytes += static_cast<char>(n >> (8 * (large_end_first ? 3 - i : i)) & 0xFF);
    return bytes;
}

/// ISO/IEC 15948, annex D, bit by bit.
std::uint32_t checksum(const std::string& bytes) {
    std::uint32_t sum = 0xFFFFFFFFU;
    for (const char c : bytes) {
        sum ^= static_cast<unsigned char>(c);
        for (int k = 0; k < 8; ++k) sum = (sum & 1) != 0 ? 0xEDB88320U ^ (sum >> 1) : sum >> 1;
    }
    return ~sum;
}

/// Bytes in a zlib stream that packs nothing (RFC 1950 and 1951).
std::string stored(const std::string& bytes) {
    std::string stream("\x78\x01\x01", 3);
    const auto n = static_cast<std::uint32_t>(bytes.size());
    for (const std::uint32_t part : {n, ~n}) {
        stream += static_cast<char>(part & 0xFF);
        stream += static_cast<char>(part >> 8 & 0xFF);
    }
    std::uint32_t a = 1, b = 0;
    for (const char c : bytes) {
        a = (a + static_cast<unsigned char>(c)) % 65521;
        b = (b + a) % 65521;
    }
    return stream + bytes + in_four(b << 16 | a, true);
}

std::string a_png(Dice& dice) {
    const std::size_t width = 1 + dice.below(20), height = 1 + dice.below(20);
    std::string lines;
    for (std::size_t y = 0; y < height; ++y) {
        lines += static_cast<char>(dice.below(5));
        for (std::size_t x = 0; x < 3 * width; ++x) lines += static_cast<char>(dice.below(256));
    }
    std::string file("\x89PNG\r\n\x1a\n", 8);
    const auto chunk = [&](const std::string& kind, const std::string& data) {
        file += in_four(static_cast<std::uint32_t>(dice.once_in(30) ? dice.count(data.size()) : data.size()), true) +
                kind + data + in_four(dice.once_in(30) ? 7 : checksum(kind + data), true);
    };
    const char depth = dice.once_in(9) ? static_cast<char>(dice.below(20)) : 8;
    const char colour = dice.once_in(9) ? static_cast<char>(dice.below(8)) : 2;
    chunk("IHDR", in_four(static_cast<std::uint32_t>(dice.count(width)), true) +
                      in_four(static_cast<std::uint32_t>(dice.count(height)), true) + depth + colour +
                      std::string(3, '\0'));
    if (dice.once_in(5)) chunk("PLTE", std::string(dice.below(20), 'p'));
    if (dice.once_in(5)) chunk("tRNS", std::string(dice.below(20), 't'));
    if (dice.once_in(5)) chunk("iCCP", "x" + std::string(dice.below(20), '\0'));
    if (dice.once_in(5)) chunk("tEXt", dice.name());
    chunk("IDAT", stored(lines));
    chunk("IEND", "");
    return dice.once_in(6) ? file.substr(0, dice.below(file.size())) : file;
}

std::string a_tiff(Dice& dice) {
    const std::size_t width = 1 + dice.below(40), height = 1 + dice.below(40), channels = dice.once_in(2) ? 1 : 3;
    const bool tiled = dice.once_in(3);
    struct Tag {
        std::uint32_t number, kind, value;
    };
    const auto n = [&](std::size_t honest) { return static_cast<std::uint32_t>(dice.count(honest)); };
    std::vector<Tag> tags{
        {256, 4, n(width)}, {257, 4, n(height)}, {258, 3, n(8)}, {259, 3, n(1)}, {262, 3, channels == 3 ? 2U : 1U}};
    if (!tiled) tags.push_back({273, 4, n(1000)});
    if (dice.once_in(3)) tags.push_back({274, 3, static_cast<std::uint32_t>(dice.below(10))});
    tags.push_back({277, 3, n(channels)});
    if (tiled)
        for (const Tag& t :
             {Tag{322, 4, n(48)}, Tag{323, 4, n(48)}, Tag{324, 4, n(1000)}, Tag{325, 4, n(48 * 48 * channels)}})
            tags.push_back(t);
    else
        for (const Tag& t : {Tag{278, 4, n(height)}, Tag{279, 4, n(width * height * channels)}}) tags.push_back(t);
    std::string file("II*\0", 4);
    file += in_four(8, false);
    const auto two = [](std::uint32_t v) { return in_four(v, false).substr(0, 2); };
    file += two(static_cast<std::uint32_t>(tags.size()));
    for (const Tag& t : tags) file += two(t.number) + two(t.kind) + in_four(1, false) + in_four(t.value, false);
    file += in_four(0, false);
    file.resize(1000, '\0');
    file += std::string(tiled ? 48 * 48 * channels : width * height * channels, 'x');
    return dice.once_in(6) ? file.substr(0, dice.below(file.size())) : file;
}

}  // namespace

std::string a_picture(Dice& dice, const std::vector<std::string>& samples) {
    if (dice.once_in(3)) return a_png(dice);
    if (dice.once_in(2)) return a_tiff(dice);
    std::string bytes = dice.of(samples);
    if (dice.once_in(3)) return bytes.substr(0, dice.below(bytes.size()));
    // Sizes stand near the beginning.
    for (std::size_t blows = 1 + dice.below(3); blows > 0; --blows)
        bytes[dice.below(dice.once_in(2) ? std::min<std::size_t>(bytes.size(), 200) : bytes.size())] =
            static_cast<char>(dice.below(256));
    return bytes;
}

}  // namespace rushlight::fuzz
