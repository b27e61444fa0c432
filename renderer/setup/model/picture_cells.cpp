#include "setup/model/picture_cells.h"

#include "quantity/colour.h"
#include "setup/text/inputs.h"
#include "setup/text/where.h"

#include <OpenImageIO/imagebuf.h>
#include <OpenImageIO/imagebufalgo.h>

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

constexpr std::int64_t most_pixels = 64'000'000;

[[noreturn]] void refuse(const std::string& path, const std::string& why) {
    throw InputError(Where{path}, "is no picture that can be read: " + why);
}

constexpr const char* expected = "expected PNG, JPEG, TIFF, EXR, WebP or HEIC";

OIIO::ImageBuf upright_picture(const std::string& path) {
    remember_input(path);
    OIIO::ImageBuf file(path);
    if (!file.init_spec(path, 0, 0)) {
        file.geterror();  // asked for, or it is printed
        refuse(path, expected);
    }
    // The library knows many more; films, layers and medical slices are no photographs.
    static constexpr std::array known{"png", "jpeg", "tiff", "openexr", "webp", "heif", "pnm", "bmp", "targa"};
    if (std::find(known.begin(), known.end(), file.file_format_name()) == known.end()) refuse(path, expected);
    const OIIO::ImageSpec& spec = file.spec();
    if (spec.depth > 1 || spec.deep) refuse(path, "expected a flat picture");
    if (static_cast<std::int64_t>(spec.width) * spec.height > most_pixels)
        refuse(path, "it is " + std::to_string(spec.width) + " x " + std::to_string(spec.height) +
                         "; expected 64 million pixels at most");
    // No more than red, green, blue and what covers: memory has its bounds.
    if (!file.read(0, 0, 0, std::min(spec.nchannels, 4), true, OIIO::TypeDesc::FLOAT)) {
        const std::string said = file.geterror();
        refuse(path, said.empty() ? "it is damaged" : said.substr(0, std::min<std::size_t>(said.find('\n'), 200)));
    }
    return OIIO::ImageBufAlgo::reorient(file);
}

}  // namespace

PictureCells read_picture_cells(const std::string& path) {
    OIIO::ImageBuf file = upright_picture(path);
    const OIIO::ImageSpec& spec = file.spec();
    const bool coded = !file.nativespec().format.is_floating_point();
    const int channels = spec.nchannels, alpha = spec.alpha_channel < channels ? spec.alpha_channel : -1;
    const bool grey = channels - (alpha >= 0 ? 1 : 0) < 3;
    // Colours are averaged as light, so they are decoded first.
    OIIO::ImageBuf light(OIIO::ImageSpec(spec.width, spec.height, 4, OIIO::TypeDesc::FLOAT));
    OIIO::ImageBuf::ConstIterator<float> from(file, file.roi());
    for (OIIO::ImageBuf::Iterator<float> to(light); !to.done(); ++to, ++from) {
        const float cover = alpha >= 0 ? std::clamp(from[alpha], 0.0F, 1.0F) : 1.0F;
        for (int c = 0; c < 3; ++c) {
            float value = from[grey ? 0 : c];
            // The library multiplies by what covers; the code is that of the paint alone.
            if (cover > 0) value /= cover;
            if (coded) value = srgb_decoded(std::clamp(value, 0.0F, 1.0F));
            to[c] = std::isfinite(value) ? std::max(value, 0.0F) * cover : 0.0F;
        }
        to[3] = cover;
    }
    const int longest = std::max(spec.width, spec.height);
    const double shrink = std::min(1.0, static_cast<double>(PictureCells::most_across) / longest);
    PictureCells cells;
    cells.across = std::max(1, static_cast<int>(std::lround(spec.width * shrink)));
    cells.down = std::max(1, static_cast<int>(std::lround(spec.height * shrink)));
    const OIIO::ImageBuf small =
        shrink < 1
            ? OIIO::ImageBufAlgo::resize(light, "triangle", 0, OIIO::ROI(0, cells.across, 0, cells.down, 0, 1, 0, 4))
            : std::move(light);
    for (OIIO::ImageBuf::ConstIterator<float> cell(small); !cell.done(); ++cell) {
        const float cover = cell[3];
        cells.clear.push_back(cover < 0.5F);
        const float scale = cover > 0 ? 1.0F / cover : 0.0F;
        cells.colour.push_back({cell[0] * scale, cell[1] * scale, cell[2] * scale});
    }
    return cells;
}

}  // namespace rushlight
