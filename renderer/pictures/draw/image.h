// Pictures in memory and on disk. Only this file and lettering.cpp see the picture library.
#pragma once

#include "pictures/files/write_file.h"
#include "results/frame/layered_frame.h"

#include <array>
#include <filesystem>
#include <string>
#include <vector>

namespace rushlight {

using Colour = std::array<float, 3>;

/// Three values a pixel, row by row from the top. Whether they are linear light or display values
/// (IEC 61966-2-1, 0..1) is said by the name of whoever holds the image.
struct Image {
    int width = 0, height = 0;
    std::vector<float> rgb;

    Image() = default;
    Image(int w, int h, const Colour& fill = {0, 0, 0});

    std::size_t at(int x, int y) const {
        return 3 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x));
    }
    bool inside(int x, int y) const { return x >= 0 && y >= 0 && x < width && y < height; }
    Colour pixel(int x, int y) const { return {rgb[at(x, y)], rgb[at(x, y) + 1], rgb[at(x, y) + 2]}; }
    void set(int x, int y, const Colour& c);
    /// `c` laid over what is there; outside the picture nothing happens.
    void blend(int x, int y, const Colour& c, float cover);
};

/// Linear light 0..1 to display values.
Image encoded(const Image& linear);

/// A display image as PNG: 8 bits, three channels, exactly the values given. In memory, or to a file.
std::string png(const Image& display);
/// The same as JPEG, in memory: for pages, where a photograph need not be exact.
std::string jpeg(const Image& display);
void write_png(const std::filesystem::path& path, const Image& display);

/// The frame with its sources apart, 32-bit float, one part: R, G, B of the whole; NN-name.R, .G, .B for each
/// source, numbered from 01 in the order of the frame; error.Y. Linear BT.709 primaries with the camera's
/// white balance, in cd/m2 (full sun passes what half floats can hold). Channels are stored in the order of
/// their names, so read them by name.
std::string exr(const LayeredFrame& frame);
void write_exr(const std::filesystem::path& path, const LayeredFrame& frame);
/// Layer names of `sources` as write_exr gives them: unsafe signs become hyphens, accents are dropped.
std::vector<std::string> layer_names(const std::vector<std::string>& sources);

}  // namespace rushlight
