// What the network was taught, as it lies in the program (docs/libraries.md: where from, under which licence).
#pragma once

#include <span>
#include <vector>

namespace rushlight {

/// One convolution of 3 x 3 pixels.
struct ConvolutionWeights {
    int out = 0, in = 0;         // channels
    std::vector<float> weights;  // [out][in][row][column]
    std::vector<float> offsets;  // [out]
};

/// Of all convolutions, in the order in which the network runs.
std::vector<ConvolutionWeights> network_weights();
/// The same of other bytes; throws std::runtime_error where they are none.
std::vector<ConvolutionWeights> network_weights(std::span<const unsigned char> bytes);

}  // namespace rushlight
