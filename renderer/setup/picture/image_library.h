// The library that knows every kind of picture file, behind a door. It brings two hundred others with it, which take a
// third of a second to load: so it isn't part of the program but a module beside it (openimageio.cpp), loaded when the
// first photograph is read. PNG and EXR are written without it (pictures/files/).
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace rushlight {

/// A picture file that is open.
class OpenPicture {
public:
    struct Facts {
        std::string format;  // "png", "jpeg", "tiff" ...
        int width = 0, height = 0, depth = 1, channels = 0;
        int tile_width = 0, tile_height = 0;  // 0: it lies in lines
        int alpha = -1;                       // number of the channel that says what covers
        int orientation = 1;                  // as the camera was held: Exif 2.32
        bool deep = false, floating = false;
        std::uint64_t bytes_a_pixel = 0;
    };
    virtual ~OpenPicture() = default;
    virtual const Facts& facts() const = 0;
    /// Channels 0 to `channels` of a block, line by line; whole numbers come as 0..1. The block is one of the file's
    /// tiles, or whole lines. False where data is cut off or damaged.
    virtual bool read(int x, int y, int across, int down, int channels, float* to) = 0;
};

class ImageLibrary {
public:
    virtual ~ImageLibrary() = default;
    /// Nothing where it is no picture that the library knows.
    virtual std::unique_ptr<OpenPicture> open(const std::string& path) = 0;
    /// The same of a PNG file's bytes, which have to live as long.
    virtual std::unique_ptr<OpenPicture> open_png(std::string_view bytes) = 0;
    /// A picture of 8 bits in sRGB as a JPEG file, good enough to look at. `row` fills line `y`. Throws
    /// std::runtime_error.
    virtual std::string jpeg(int width, int height, const std::function<void(int y, std::uint8_t* to)>& row) = 0;
};

/// Loaded at the first call. Throws std::runtime_error, in one sentence, where the module is not beside the program.
ImageLibrary& image_library();

}  // namespace rushlight
