// The library that knows picture files, behind a door. It brings two hundred others with it, which take a third of a
// second to load: so it is no part of the program but a module beside it (openimageio.cpp), loaded when the first
// picture is read or written.
#pragma once

#include <cstdint>
#include <functional>
#include <map>
#include <memory>
#include <string>
#include <string_view>
#include <thread>
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

/// A picture to be encoded.
struct NewPicture {
    enum class Kind { png, jpeg, exr };
    Kind kind = Kind::png;
    int width = 0, height = 0;
    std::vector<std::string> channels{"R", "G", "B"};
    std::map<std::string, int> whole_numbers;  // notes in its header, by name
    std::map<std::string, float> numbers;
};

class ImageLibrary {
public:
    virtual ~ImageLibrary() = default;
    /// Nothing where it is no picture that the library knows.
    virtual std::unique_ptr<OpenPicture> open(const std::string& path) = 0;
    /// The same of a PNG file's bytes, which have to live as long.
    virtual std::unique_ptr<OpenPicture> open_png(std::string_view bytes) = 0;
    /// `row` fills a line, channel beside channel: 8 bits each in sRGB, or floats for an EXR. Throws
    /// std::runtime_error.
    virtual std::string encoded(const NewPicture& picture, const std::function<void(int y, void* row)>& row) = 0;
};

/// Loaded at the first call. Throws std::runtime_error, in one sentence, where the module is not beside the program.
ImageLibrary& image_library();

/// Loads it while other work goes on, and is through before its end: a program must not end in the middle. What goes
/// wrong is told by image_library().
class LoadingImageLibrary {
public:
    LoadingImageLibrary();
    LoadingImageLibrary(const LoadingImageLibrary&) = delete;
    LoadingImageLibrary& operator=(const LoadingImageLibrary&) = delete;
    ~LoadingImageLibrary();

private:
    std::thread thread_;
};

}  // namespace rushlight
