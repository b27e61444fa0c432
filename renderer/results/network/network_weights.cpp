#include "results/network/network_weights.h"

#include <half.h>

#include <cstdint>
#include <cstring>
#include <stdexcept>

// The file goes into the program as it is.
asm(".section .rodata\n"
    ".balign 16\n"
    "rushlight_network_begin:\n"
    ".incbin \"" RUSHLIGHT_NETWORK_WEIGHTS "\"\n"
    "rushlight_network_end:\n"
    ".byte 0\n"
    ".previous\n");
extern "C" {
extern const unsigned char rushlight_network_begin[], rushlight_network_end[];
}

namespace rushlight {

namespace {

/// Little endian, as everywhere that this runs.
template <class T>
T taken(std::span<const unsigned char>& from) {
    if (from.size() < sizeof(T)) throw std::runtime_error("the network's weights end too early");
    T value{};
    std::memcpy(&value, from.data(), sizeof value);
    from = from.subspan(sizeof value);
    return value;
}

std::vector<float> halves(std::span<const unsigned char>& from, std::size_t count) {
    if (from.size() / 2 < count) throw std::runtime_error("the network's weights end too early");
    std::vector<float> values(count);
    for (float& v : values) {
        half h;
        h.setBits(taken<std::uint16_t>(from));
        v = h;
    }
    return values;
}

}  // namespace

std::vector<ConvolutionWeights> network_weights(std::span<const unsigned char> bytes) {
    constexpr char mark[] = "RLNET001";
    constexpr std::uint32_t most_layers = 64, most_channels = 1024;
    if (bytes.size() < 8 || std::memcmp(bytes.data(), mark, 8) != 0)
        throw std::runtime_error("the network's weights do not begin as they should");
    bytes = bytes.subspan(8);
    const auto count = taken<std::uint32_t>(bytes);
    if (count > most_layers) throw std::runtime_error("the network's weights have too many layers");
    std::vector<ConvolutionWeights> layers(count);
    for (ConvolutionWeights& layer : layers) {
        const auto out = taken<std::uint32_t>(bytes), in = taken<std::uint32_t>(bytes);
        if (out > most_channels || in > most_channels)
            throw std::runtime_error("the network's weights have too many channels");
        layer.out = static_cast<int>(out);
        layer.in = static_cast<int>(in);
        layer.weights = halves(bytes, std::size_t{9} * out * in);
        layer.offsets = halves(bytes, out);
    }
    if (!bytes.empty()) throw std::runtime_error("the network's weights go on too long");
    return layers;
}

std::vector<ConvolutionWeights> network_weights() {
    return network_weights({rushlight_network_begin, rushlight_network_end});
}

}  // namespace rushlight
