// The library that convolves, behind a door. It is forty times as large as the program without it: so it isn't part of
// the program but a module beside it (onednn.cpp), loaded when the first picture loses its noise.
#pragma once

#include "results/network/network_weights.h"

#include <memory>
#include <string>

namespace rushlight {

/// Channels are stored in sixteens, the rest of them zero: whole vectors.
constexpr int stored_channels(int channels) {
    return (channels + 15) / 16 * 16;
}

/// One convolution over so many rows of a picture, on the thread that calls it.
class BandConvolution {
public:
    virtual ~BandConvolution() = default;
    /// `from`: the rows and one over and one under them, pixel by pixel, all channels of one together; `to`: the rows.
    /// What is under zero becomes zero.
    virtual void operator()(const float* from, float* to) const = 0;
};

class ConvolutionLibrary {
public:
    virtual ~ConvolutionLibrary() = default;
    virtual std::unique_ptr<BandConvolution> convolution(const ConvolutionWeights& layer, int width, int rows) = 0;
};

/// Loaded at the first call. Null where it cannot be.
ConvolutionLibrary* convolution_library();
/// Why it cannot be, in one sentence; else empty.
std::string no_convolution_library();

}  // namespace rushlight
