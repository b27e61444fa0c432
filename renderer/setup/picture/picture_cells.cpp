#include "setup/picture/picture_cells.h"

#include "quantity/colour.h"
#include "quantity/content.h"
#include "quantity/packed.h"
#include "quantity/shelf.h"
#include "setup/picture/image_library.h"
#include "setup/picture/png_chunks.h"
#include "setup/text/where.h"
#include "setup/text/whole_file.h"

#include <algorithm>
#include <cmath>
#include <memory>
#include <optional>

namespace rushlight {

namespace {

constexpr std::int64_t most_pixels = 64'000'000;
constexpr std::int64_t most_pixels_at_once = 16'000'000;   // of a tile
constexpr std::uint64_t most_bytes_at_once = 256'000'000;  // as they lie in the file: of a tile, of a line
constexpr std::uint64_t most_bytes = 1'000'000'000;        // of the whole picture
constexpr const char* expected = "expected PNG, JPEG, TIFF, EXR, WebP or HEIC";

[[noreturn]] void refuse(const std::string& path, const std::string& why) {
    throw InputError(Where{path}, "is no picture that can be read: " + why);
}

std::string by(std::int64_t width, std::int64_t height) {
    return std::to_string(width) + " x " + std::to_string(height);
}

void refuse_pixels(const std::string& path, std::int64_t width, std::int64_t height) {
    if (width * height > most_pixels)
        refuse(path, "it is " + by(width, height) + "; expected 64 million pixels at most");
}

/// The library decodes a WebP picture as soon as it is opened; its size stands in its first bytes (RFC 9649).
void check_webp(const std::string& path, const std::string& head) {
    if (head.size() < 30 || head.compare(0, 4, "RIFF") != 0 || head.compare(8, 4, "WEBP") != 0) return;
    const auto byte = [&](std::size_t i) { return static_cast<std::int64_t>(static_cast<unsigned char>(head[i])); };
    const std::string kind = head.substr(12, 4);
    if (kind == "VP8X")
        refuse_pixels(path, 1 + byte(24) + (byte(25) << 8) + (byte(26) << 16),
                      1 + byte(27) + (byte(28) << 8) + (byte(29) << 16));
    if (kind == "VP8L") {
        const std::int64_t bits = byte(21) + (byte(22) << 8) + (byte(23) << 16) + (byte(24) << 24);
        refuse_pixels(path, 1 + (bits & 0x3FFF), 1 + (bits >> 14 & 0x3FFF));
    }
    if (kind == "VP8 ")
        refuse_pixels(path, (byte(26) + (byte(27) << 8)) & 0x3FFF, (byte(28) + (byte(29) << 8)) & 0x3FFF);
}

/// A picture file that is open, with what it says of itself checked.
class PictureFile {
public:
    PictureFile(const std::string& path, const std::string& bytes) : path_(path) {
        if (bytes.empty()) refuse(path, expected);
        check_webp(path, bytes);
        if (is_png(bytes)) {
            std::string trouble;
            png_ = plain_png(bytes, trouble);
            if (!trouble.empty()) refuse(path, trouble);
            file_ = image_library().open_png(png_);
        } else {
            file_ = image_library().open(path);
        }
        if (!file_) refuse(path, expected);
        check();
    }

    const OpenPicture::Facts& facts() const { return file_->facts(); }
    int channels() const { return std::min(facts().channels, 4); }

    /// Calls `take` with red, green, blue and what covers, block by block until all of it was there: the block's first
    /// column and line, how many of each, and the values.
    template <class Take>
    void read(const Patience& patience, const Take& take) {
        const OpenPicture::Facts& f = facts();
        const int lines = std::clamp(static_cast<int>((1 << 20) / f.width), 1, 256);
        const int wide = f.tile_width > 0 ? f.tile_width : f.width, high = f.tile_width > 0 ? f.tile_height : lines;
        std::vector<float> values;
        for (int y = 0; y < f.height; y += high)
            for (int x = 0; x < f.width; x += wide) {
                patience.look();
                const int across = std::min(wide, f.width - x), down = std::min(high, f.height - y);
                values.resize(static_cast<std::size_t>(across) * static_cast<std::size_t>(down) *
                              static_cast<std::size_t>(channels()));
                if (!file_->read(x, y, across, down, channels(), values.data()))
                    refuse(path_, "it is cut off or damaged");
                take(x, y, across, down, values.data());
            }
    }

private:
    void check() const {
        // The library knows many more; films, layers and medical slices are no photographs.
        static constexpr std::array known{"png", "jpeg", "tiff", "openexr", "webp", "heif", "pnm", "bmp", "targa"};
        const OpenPicture::Facts& f = facts();
        if (std::find(known.begin(), known.end(), f.format) == known.end()) refuse(path_, expected);
        if (f.depth > 1 || f.deep) refuse(path_, "expected a flat picture");
        if (f.width < 1 || f.height < 1 || f.channels < 1) refuse(path_, "it has no pixels");
        refuse_pixels(path_, f.width, f.height);
        const std::int64_t tile = static_cast<std::int64_t>(f.tile_width) * f.tile_height;
        if (f.tile_width > 0 && (f.tile_height < 1 || tile > most_pixels_at_once ||
                                 static_cast<std::uint64_t>(tile) * f.bytes_a_pixel > most_bytes_at_once))
            refuse(path_,
                   "it is cut into tiles of " + by(f.tile_width, f.tile_height) + "; expected 4000 x 4000 at most");
        const std::uint64_t line = static_cast<std::uint64_t>(f.width) * f.bytes_a_pixel;
        if (line > most_bytes_at_once || line * static_cast<std::uint64_t>(f.height) > most_bytes)
            refuse(path_, "it has " + std::to_string(f.channels) + " channels; expected no more than 1 GB in all");
    }

    std::string path_, png_;
    std::unique_ptr<OpenPicture> file_;
};

/// sRGB values of whole numbers, decoded by table: 65 536 steps are all that a file has.
float decoded(float value) {
    static const std::vector<float> table = [] {
        std::vector<float> t(65'536);
        for (std::size_t i = 0; i < t.size(); ++i) t[i] = srgb_decoded(static_cast<float>(i) / 65'535.0F);
        return t;
    }();
    return table[static_cast<std::size_t>(std::clamp(value, 0.0F, 1.0F) * 65'535.0F + 0.5F)];
}

/// Light that falls into cells, each pixel with the share of it that lies in each.
class Averages {
public:
    Averages(int width, int height, int across, int down)
        : across_(across), columns_(shares(width, across)), lines_(shares(height, down)) {
        sums_.resize(static_cast<std::size_t>(across) * static_cast<std::size_t>(down));
    }

    void add(int x, int y, const std::array<float, 4>& light) {
        const Share &column = columns_[static_cast<std::size_t>(x)], &line = lines_[static_cast<std::size_t>(y)];
        for (int j = 0; j < (line.first < 1 ? 2 : 1); ++j)
            for (int i = 0; i < (column.first < 1 ? 2 : 1); ++i) {
                const float share = (i == 0 ? column.first : 1 - column.first) * (j == 0 ? line.first : 1 - line.first);
                auto& sum = sums_[static_cast<std::size_t>((line.cell + j) * across_ + column.cell + i)];
                for (std::size_t c = 0; c < 4; ++c) sum[c] += static_cast<double>(share * light[c]);
                sum[4] += static_cast<double>(share);
            }
    }
    /// Red, green, blue and what covers, each times what covers.
    std::array<float, 4> mean(std::size_t cell) const {
        const auto& sum = sums_[cell];
        std::array<float, 4> m{};
        for (std::size_t c = 0; c < 4; ++c) m[c] = static_cast<float>(sum[c] / std::max(sum[4], 1e-12));
        return m;
    }

private:
    /// The first cell that a pixel lies in, and how much of it; the rest lies in the next.
    struct Share {
        int cell;
        float first;
    };
    static std::vector<Share> shares(int pixels, int cells) {
        std::vector<Share> all;
        const double scale = static_cast<double>(cells) / pixels;
        for (int i = 0; i < pixels; ++i) {
            const double from = i * scale, to = (i + 1) * scale;
            const int cell = std::min(cells - 1, static_cast<int>(from + 1e-9));
            const double in_first = cell + 1 >= cells ? 1.0 : std::min(1.0, (cell + 1 - from) / (to - from));
            all.push_back({cell, in_first > 1 - 1e-6 ? 1.0F : static_cast<float>(in_first)});
        }
        return all;
    }

    int across_;
    std::vector<Share> columns_, lines_;
    std::vector<std::array<double, 5>> sums_;
};

/// Turned and mirrored as the camera was held (Exif 2.32, Orientation).
PictureCells upright(const PictureCells& stored, int held) {
    if (held < 2 || held > 8) return stored;
    const bool lies = held > 4, mirrored = held == 2 || held == 3 || held == 7 || held == 8,
               upside_down = held == 3 || held == 4 || held == 6 || held == 7;
    PictureCells cells;
    cells.across = lies ? stored.down : stored.across;
    cells.down = lies ? stored.across : stored.down;
    for (int line = 0; line < cells.down; ++line)
        for (int column = 0; column < cells.across; ++column) {
            int x = lies ? line : column, y = lies ? column : line;
            if (mirrored) x = stored.across - 1 - x;
            if (upside_down) y = stored.down - 1 - y;
            const auto from = static_cast<std::size_t>(y * stored.across + x);
            cells.colour.push_back(stored.colour[from]);
            cells.clear.push_back(stored.clear[from]);
        }
    return cells;
}

PictureCells cells_of(PictureFile& file, const Patience& patience) {
    const OpenPicture::Facts& facts = file.facts();
    const bool coded = !facts.floating;
    const int channels = file.channels(), alpha = facts.alpha < channels ? facts.alpha : -1;
    const bool grey = channels - (alpha >= 0 ? 1 : 0) < 3;
    const double shrink =
        std::min(1.0, static_cast<double>(PictureCells::most_across) / std::max(facts.width, facts.height));
    PictureCells cells;
    cells.across = std::max(1, static_cast<int>(std::lround(facts.width * shrink)));
    cells.down = std::max(1, static_cast<int>(std::lround(facts.height * shrink)));
    Averages averages(facts.width, facts.height, cells.across, cells.down);
    file.read(patience, [&](int x, int y, int across, int down, const float* from) {
        for (int j = 0; j < down; ++j)
            for (int i = 0; i < across; ++i, from += channels) {
                const float cover = alpha >= 0 ? std::clamp(from[alpha], 0.0F, 1.0F) : 1.0F;
                // Colours are averaged as light, so they are decoded first.
                std::array<float, 4> light{0, 0, 0, cover};
                for (std::size_t c = 0; c < 3; ++c) {
                    float value = from[grey ? 0 : c];
                    // The library multiplies by what covers; the code is that of the paint alone.
                    if (cover > 0) value /= cover;
                    if (!std::isfinite(value)) continue;
                    light[c] = std::max(coded ? decoded(value) : value, 0.0F) * cover;
                }
                averages.add(x + i, y + j, light);
            }
    });
    const auto count = static_cast<std::size_t>(cells.across) * static_cast<std::size_t>(cells.down);
    for (std::size_t i = 0; i < count; ++i) {
        const auto [r, g, b, cover] = averages.mean(i);
        cells.clear.push_back(cover < 0.5F);
        const float scale = cover > 0 ? 1.0F / cover : 0.0F;
        cells.colour.push_back({r * scale, g * scale, b * scale});
    }
    return upright(cells, facts.orientation);
}

PictureCells freshly_read(const std::string& path, const std::string& bytes, const Patience& patience) {
    image_library();  // that it is missing is no fault of the picture's
    try {
        PictureFile file(path, bytes);
        return cells_of(file, patience);
    } catch (const InputError&) {
        throw;
    } catch (const Stopped&) {
        throw;
    } catch (const std::exception&) {  // the library takes some headers at their word
        refuse(path, "it is damaged");
    }
}

std::string packed(const PictureCells& cells) {
    Packer to;
    to.put(cells.across);
    to.put(cells.down);
    to.put(cells.colour);
    to.put(std::vector<char>(cells.clear.begin(), cells.clear.end()));
    return to.bytes;
}

std::optional<PictureCells> unpacked(const std::string& bytes) {
    Unpacker from(bytes);
    PictureCells cells;
    cells.across = from.get<int>();
    cells.down = from.get<int>();
    cells.colour = from.list<std::array<float, 3>>();
    const std::vector<char> clear = from.list<char>();
    cells.clear.assign(clear.begin(), clear.end());
    const auto count = static_cast<std::size_t>(cells.across) * static_cast<std::size_t>(cells.down);
    const bool whole = from.finished() && cells.colour.size() == count && cells.clear.size() == count;
    return whole ? std::optional(std::move(cells)) : std::nullopt;
}

}  // namespace

PictureCells read_picture_cells(const std::string& path, const Patience& patience) {
    // The library takes half a second to load: of a picture that was read before, the cells are kept.
    const std::string bytes = whole_file(path, largest_picture_file, "a picture");
    return from_the_shelf(
        "picture " + fingerprint(bytes), [&] { return freshly_read(path, bytes, patience); }, packed, unpacked);
}

}  // namespace rushlight
