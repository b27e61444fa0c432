#include "pictures/draw/image.h"

#include "pictures/files/exr_file.h"
#include "pictures/files/png_file.h"
#include "pictures/words/utf8.h"
#include "quantity/colour.h"
#include "setup/picture/image_library.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <stdexcept>

namespace rushlight {
namespace {

std::uint8_t in_8_bits(float v) {
    return static_cast<std::uint8_t>(std::lround(255.0F * (v > 0 ? std::min(v, 1.0F) : 0.0F)));
}

void check(const LayeredFrame& frame) {
    const auto pixels =
        static_cast<std::size_t>(std::max(frame.width, 0)) * static_cast<std::size_t>(std::max(frame.height, 0));
    if (pixels == 0) throw OutputError("cannot write a frame without pixels");
    if (frame.layers.size() != frame.sources.size())
        throw OutputError("cannot write a frame of " + std::to_string(frame.layers.size()) + " layers and " +
                          std::to_string(frame.sources.size()) + " source names");
    for (const auto& layer : frame.layers)
        if (layer.size() != pixels) throw OutputError("cannot write a frame whose layers differ in size");
    if (!frame.error.empty() && frame.error.size() != pixels)
        throw OutputError("cannot write a frame whose error layer differs in size");
}

}  // namespace

Image::Image(int w, int h, const Colour& fill) : width(w), height(h) {
    if (w <= 0 || h <= 0 || w > 32768 || h > 32768)
        throw OutputError("cannot make a picture of " + std::to_string(w) + " x " + std::to_string(h) + " pixels");
    rgb.resize(3 * static_cast<std::size_t>(w) * static_cast<std::size_t>(h));
    for (std::size_t i = 0; i < rgb.size(); ++i) rgb[i] = fill[i % 3];
}

void Image::set(int x, int y, const Colour& c) {
    std::copy(c.begin(), c.end(), &rgb[at(x, y)]);
}

void Image::blend(int x, int y, const Colour& c, float cover) {
    if (!inside(x, y) || !(cover > 0)) return;
    const float k = std::min(cover, 1.0F);
    float* p = &rgb[at(x, y)];
    for (std::size_t i = 0; i < 3; ++i) p[i] += k * (c[i] - p[i]);
}

Image encoded(const Image& linear) {
    Image display = linear;
    for (float& v : display.rgb) v = srgb_encoded(v);
    return display;
}

namespace {

void expect_pixels(const Image& display) {
    if (display.width <= 0 || display.height <= 0) throw OutputError("cannot write a picture without pixels");
}

/// Line `y` in 8 bits.
void put_row(const Image& display, int y, std::uint8_t* to) {
    for (std::size_t i = 0; i < 3 * static_cast<std::size_t>(display.width); ++i)
        to[i] = in_8_bits(display.rgb[display.at(0, y) + i]);
}

}  // namespace

std::string png(const Image& display) {
    expect_pixels(display);
    return png_file(display.width, display.height, [&](int y, std::uint8_t* to) { put_row(display, y, to); });
}

std::string jpeg(const Image& display) {
    expect_pixels(display);
    try {
        return image_library().jpeg(display.width, display.height,
                                    [&](int y, std::uint8_t* to) { put_row(display, y, to); });
    } catch (const std::runtime_error& trouble) {
        throw OutputError(trouble.what());
    }
}

void write_png(const std::filesystem::path& path, const Image& display) {
    write_file(path, png(display));
}

std::vector<std::string> layer_names(const std::vector<std::string>& sources) {
    const std::size_t digits = std::max<std::size_t>(2, std::to_string(sources.size()).size());
    std::vector<std::string> names;
    for (const std::string& source : sources) {
        std::string number = std::to_string(names.size() + 1);
        number.insert(0, digits - std::min(digits, number.size()), '0');
        std::string safe;
        for (char32_t c : code_points(source)) {
            const char letter = plain_letter(c);
            const bool kept = (letter >= '0' && letter <= '9') || (letter >= 'A' && letter <= 'Z') ||
                              (letter >= 'a' && letter <= 'z') || letter == '_';
            if (kept)
                safe.push_back(letter);
            else if (!safe.empty() && safe.back() != '-')
                safe.push_back('-');
        }
        safe.resize(std::min<std::size_t>(safe.size(), 80));
        while (!safe.empty() && safe.back() == '-') safe.pop_back();
        names.push_back(number + "-" + (safe.empty() ? "source" : safe));
    }
    return names;
}

std::string exr(const LayeredFrame& frame) {
    check(frame);
    const std::size_t sources = frame.sources.size();
    std::vector<std::string> channels{"R", "G", "B", "Y"};
    for (const std::string& name : layer_names(frame.sources))
        for (const char* letter : {".R", ".G", ".B"}) channels.push_back(name + letter);
    // After a single pass no error is known, and none is written.
    const bool error_known = !frame.error.empty() && std::all_of(frame.error.begin(), frame.error.end(),
                                                                 [](float e) { return std::isfinite(e); });
    if (error_known) channels.emplace_back("error.Y");

    ExrFile file{frame.width, frame.height, channels, {}, {}};
    file.whole_numbers["rushlight:pathsPerPixel"] = static_cast<int>(frame.paths_per_pixel);
    if (std::isfinite(frame.noise)) file.numbers["rushlight:noiseOfAPixel"] = static_cast<float>(frame.noise);

    const WhiteBalance balanced{Kelvin{frame.camera.white_balance}, frame.camera.tint};
    return exr_file(file, [&](int y, float* to) {
        for (int x = 0; x < frame.width; ++x) {
            const std::size_t pixel = frame.at(x, y);
            float* p = to + static_cast<std::size_t>(x) * channels.size();
            std::fill(p, p + channels.size(), 0.0F);
            for (std::size_t s = 0; s < sources; ++s) {
                const Tristimulus light = tristimulus(frame.layers[s][pixel]);
                const LinearRgb c = balanced(light);
                const Colour one{c.r, c.g, c.b};
                p[3] += static_cast<float>(light.y);
                for (std::size_t i = 0; i < 3; ++i) p[4 + 3 * s + i] = one[i], p[i] += one[i];
            }
            if (error_known) p[channels.size() - 1] = frame.error[pixel];
        }
    });
}

void write_exr(const std::filesystem::path& path, const LayeredFrame& frame) {
    write_file(path, exr(frame));
}

}  // namespace rushlight
