// A photograph from the scout as cells of light and dark, not too many. Only its .cpp sees the picture library.
#pragma once

#include "setup/text/patience.h"

#include <array>
#include <cstddef>
#include <string>
#include <vector>

namespace rushlight {

struct PictureCells {
    static constexpr int most_across = 400;  // and down: as fine as a window in a frame shows

    int across = 0, down = 0;
    /// Linear BT.709, 0 or more, row by row from the top; what is mostly transparent is `clear`.
    std::vector<std::array<float, 3>> colour;
    std::vector<bool> clear;
};

/// Reads PNG, JPEG, TIFF, EXR, WebP or HEIC, the right way up; whole numbers are taken as sRGB (IEC 61966-2-1),
/// floating point as linear. Throws InputError for what is no picture, one past 64 million pixels, and one that is cut
/// off.
PictureCells read_picture_cells(const std::string& path, const Patience& patience = {});

inline constexpr std::size_t largest_picture_file = 256'000'000;  // bytes

}  // namespace rushlight
