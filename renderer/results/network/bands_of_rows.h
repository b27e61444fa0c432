// One convolution of a network, run over bands of rows of a picture.
#pragma once

#include "paths/work/effort.h"
#include "results/network/convolution_library.h"

#include <functional>
#include <memory>

namespace rushlight {

/// A picture's numbers: pixel by pixel, all channels of one together, with a row of zeros over and under it.
class Planes {
public:
    Planes() = default;
    Planes(int width, int height, int channels);
    int width() const { return width_; }
    int height() const { return height_; }
    int channels() const { return channels_; }
    std::size_t row_size() const { return static_cast<std::size_t>(width_) * static_cast<std::size_t>(channels_); }
    /// -1 and `height` are there too: the rows of zeros.
    float* row(int y) { return values_.get() + static_cast<std::size_t>(y + 1) * row_size(); }
    const float* row(int y) const { return values_.get() + static_cast<std::size_t>(y + 1) * row_size(); }

private:
    struct Free {
        void operator()(float* values) const;
    };
    int width_ = 0, height_ = 0, channels_ = 0;
    std::unique_ptr<float[], Free> values_;
};

/// Gives the rows `first` - 1 to `first` + `rows` of what is to be convolved: where they lie already, or in `room`,
/// which is large enough for them.
using RowsToConvolve = std::function<const float*(int first, int rows, float* room)>;

/// Convolves all rows and takes what is under zero for zero. `in` channels are those that `rows` gives, stored.
Planes convolved(ConvolutionLibrary& library, const ConvolutionWeights& weights, int width, int height,
                 const RowsToConvolve& rows, const Effort& effort);

}  // namespace rushlight
