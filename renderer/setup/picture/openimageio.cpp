// The only file that sees OpenImageIO; it is built as a module of its own (image_library.h).
#include "setup/picture/image_library.h"

#include <OpenImageIO/filesystem.h>
#include <OpenImageIO/imageio.h>

#include <optional>
#include <stdexcept>

namespace rushlight {

namespace {

class Opened : public OpenPicture {
public:
    explicit Opened(std::unique_ptr<OIIO::ImageInput> file) : file_(std::move(file)) { look(); }
    Opened(std::unique_ptr<OIIO::Filesystem::IOMemReader> memory, std::unique_ptr<OIIO::ImageInput> file)
        : memory_(std::move(memory)), file_(std::move(file)) {
        look();
    }

    const Facts& facts() const override { return facts_; }
    bool read(int x, int y, int across, int down, int channels, float* to) override {
        const OIIO::ImageSpec& s = file_->spec();
        const int left = s.x + x, top = s.y + y;
        const bool there = s.tile_width > 0 ? file_->read_tiles(0, 0, left, left + across, top, top + down, s.z,
                                                                s.z + 1, 0, channels, OIIO::TypeDesc::FLOAT, to)
                                            : file_->read_scanlines(0, 0, top, top + down, s.z, 0, channels,
                                                                    OIIO::TypeDesc::FLOAT, to);
        // Some formats go on after data that is not there, and only leave a note.
        if (there && !file_->has_error()) return true;
        file_->geterror();
        return false;
    }

private:
    void look() {
        const OIIO::ImageSpec& s = file_->spec();
        facts_.format = file_->format_name();
        facts_.width = s.width, facts_.height = s.height, facts_.depth = s.depth, facts_.channels = s.nchannels;
        facts_.tile_width = s.tile_width, facts_.tile_height = s.tile_height;
        facts_.alpha = s.alpha_channel;
        facts_.orientation = s.get_int_attribute("Orientation", 1);
        facts_.deep = s.deep;
        facts_.floating = s.format.is_floating_point();
        facts_.bytes_a_pixel = s.pixel_bytes(true);
    }

    std::unique_ptr<OIIO::Filesystem::IOMemReader> memory_;
    std::unique_ptr<OIIO::ImageInput> file_;
    Facts facts_;
};

class OpenImageIo : public ImageLibrary {
public:
    OpenImageIo() {
        // The library's own worker threads are left out: nothing here needs them, and pools of threads have been known
        // to hang a program that ends while they live.
        OIIO::attribute("threads", 1);
        OIIO::attribute("exr_threads", -1);
    }

    std::unique_ptr<OpenPicture> open(const std::string& path) override {
        auto file = OIIO::ImageInput::open(path);
        if (!file) return nothing();
        return std::make_unique<Opened>(std::move(file));
    }
    std::unique_ptr<OpenPicture> open_png(std::string_view bytes) override {
        auto memory = std::make_unique<OIIO::Filesystem::IOMemReader>(const_cast<char*>(bytes.data()), bytes.size());
        auto file = OIIO::ImageInput::open("picture.png", nullptr, memory.get());
        if (!file) return nothing();
        return std::make_unique<Opened>(std::move(memory), std::move(file));
    }
    std::string jpeg(int width, int height, const std::function<void(int y, std::uint8_t* to)>& row) override {
        OIIO::ImageSpec spec(width, height, 3, OIIO::TypeDesc::UINT8);
        spec.attribute("Software", "rushlight");
        spec.attribute("compression", "jpeg:88");
        spec.attribute("oiio:ColorSpace", "sRGB");  // a label; the values go through untouched
        OIIO::Filesystem::IOVecOutput memory;
        const auto out = OIIO::ImageOutput::create("jpeg", &memory);
        if (!out) throw std::runtime_error("cannot make JPEG files: " + OIIO::geterror());
        std::vector<std::uint8_t> line(3 * static_cast<std::size_t>(width));
        bool made = out->open("picture.jpg", spec);
        for (int y = 0; made && y < height; ++y) {
            row(y, line.data());
            made = out->write_scanline(y, 0, OIIO::TypeDesc::UINT8, line.data());
        }
        if (!made || !out->close()) throw std::runtime_error("cannot make the JPEG file: " + out->geterror());
        const auto& bytes = memory.buffer();
        return {reinterpret_cast<const char*>(bytes.data()), bytes.size()};
    }

private:
    static std::unique_ptr<OpenPicture> nothing() {
        OIIO::geterror();  // asked for, or it is printed
        return nullptr;
    }
};

}  // namespace

extern "C" ImageLibrary* rushlight_image_library() {
    static OpenImageIo library;
    return &library;
}

}  // namespace rushlight
