// A picture of 8 bits in sRGB as the bytes of a PNG file (ISO/IEC 15948). The only file that sees libpng.
#pragma once

#include <cstdint>
#include <functional>
#include <string>

namespace rushlight {

/// `row` fills line `y` from the top: red, green, blue, pixel by pixel. Throws OutputError.
std::string png_file(int width, int height, const std::function<void(int y, std::uint8_t* to)>& row);

}  // namespace rushlight
