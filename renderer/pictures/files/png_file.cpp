#include "pictures/files/png_file.h"

#include "pictures/files/write_file.h"

#include <png.h>

#include <vector>

namespace rushlight {

namespace {

struct Failed {
    std::string why;
};

// The library wants a function here that does not return. C++ unwinds through its C frames as the distribution builds
// them, and nothing of them needs clearing up but what Writing holds.
[[noreturn]] void fail(png_structp png, png_const_charp why) {
    static_cast<void>(png);
    throw Failed{why};
}

class Writing {
public:
    Writing()
        : png_(png_create_write_struct(PNG_LIBPNG_VER_STRING, nullptr, fail, [](png_structp, png_const_charp) {})) {
        if (png_ == nullptr) throw Failed{"the library does not start"};
        info_ = png_create_info_struct(png_);
        if (info_ == nullptr) fail(png_, "the library has no memory");
        png_set_write_fn(
            png_, &bytes,
            [](png_structp png, png_bytep data, png_size_t length) {
                static_cast<std::string*>(png_get_io_ptr(png))->append(reinterpret_cast<const char*>(data), length);
            },
            [](png_structp) {});
    }
    Writing(const Writing&) = delete;
    Writing& operator=(const Writing&) = delete;
    ~Writing() { png_destroy_write_struct(&png_, &info_); }

    png_structp png() const { return png_; }
    png_infop info() const { return info_; }
    std::string bytes;

private:
    png_structp png_;
    png_infop info_ = nullptr;
};

}  // namespace

std::string png_file(int width, int height, const std::function<void(int y, std::uint8_t* to)>& row) {
    try {
        Writing w;
        png_set_IHDR(w.png(), w.info(), static_cast<png_uint_32>(width), static_cast<png_uint_32>(height), 8,
                     PNG_COLOR_TYPE_RGB, PNG_INTERLACE_NONE, PNG_COMPRESSION_TYPE_DEFAULT, PNG_FILTER_TYPE_DEFAULT);
        png_set_sRGB(w.png(), w.info(), PNG_sRGB_INTENT_PERCEPTUAL);
        png_write_info(w.png(), w.info());
        std::vector<std::uint8_t> line(3 * static_cast<std::size_t>(width));
        for (int y = 0; y < height; ++y) {
            row(y, line.data());
            png_write_row(w.png(), line.data());
        }
        png_write_end(w.png(), w.info());
        return std::move(w.bytes);
    } catch (const Failed& trouble) {
        throw OutputError("cannot make the PNG file: " + trouble.why);
    }
}

}  // namespace rushlight
