#include "pictures/draw/lettering.h"

#include "pictures/draw/coarse_letters.h"
#include "pictures/words/utf8.h"

#include <OpenImageIO/imagebuf.h>
#include <OpenImageIO/imagebufalgo.h>

#include <algorithm>
#include <atomic>
#include <cmath>
#include <filesystem>
#include <map>
#include <mutex>

namespace rushlight {
namespace {

std::atomic<bool> coarse_wanted{false};

std::string installed_font(bool bold) {
    const std::string file = bold ? "DejaVuSans-Bold.ttf" : "DejaVuSans.ttf";
    for (const char* folder : {"/usr/share/fonts/truetype/dejavu/", "/usr/share/fonts/dejavu-sans-fonts/",
                               "/usr/share/fonts/dejavu/", "/usr/share/fonts/TTF/"}) {
        std::error_code ignored;
        if (std::filesystem::is_regular_file(folder + file, ignored)) return folder + file;
    }
    return {};
}

/// Empty when there is none, or when letters are to be coarse.
const std::string& font(bool bold) {
    static const std::string plain = installed_font(false), heavy = installed_font(true), none;
    if (coarse_wanted) return none;
    return bold && !heavy.empty() ? heavy : plain;
}

// The text of one letter-setting call: ASCII for the font, or one sign drawn by hand. The library's own way from UTF-8
// to code points loses all but the last six bits in the version most distributions carry, so it is never given anything
// but ASCII.
struct Run {
    std::string letters;
    char32_t sign = 0;  // '−', '±', '·' or '°'
};

std::vector<Run> runs_of(std::string_view text) {
    std::vector<Run> runs;
    const auto letters = [&](std::string_view more) {
        if (runs.empty() || runs.back().sign != 0) runs.push_back({});
        runs.back().letters += more;
    };
    for (char32_t c : code_points(text)) {
        if (c == U'−' || c == U'±' || c == U'·' || c == U'°')
            runs.push_back({{}, c});
        else if (c == U'…')
            letters("...");
        else if (c == U'×')
            letters("x");
        else if (columns(utf8({&c, 1})) > 0) {
            const char plain = plain_letter(c);
            letters({plain != 0 ? &plain : "?", 1});
        }
    }
    return runs;
}

// Cover 0..1 of every pixel of a small sheet, on which one text is set.
struct Cover {
    int width = 0, height = 0;
    std::vector<float> value;

    Cover(int w, int h) : width(w), height(h), value(static_cast<std::size_t>(w) * static_cast<std::size_t>(h)) {}
    float& at(int x, int y) {
        return value[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x)];
    }
    void box(double x0, double y0, double x1, double y1) {
        for (int y = std::max(0, static_cast<int>(y0)); y < std::min(height, static_cast<int>(std::ceil(y1))); ++y)
            for (int x = std::max(0, static_cast<int>(x0)); x < std::min(width, static_cast<int>(std::ceil(x1))); ++x) {
                const double part = std::max(0.0, std::min(x1, x + 1.0) - std::max(x0, x + 0.0)) *
                                    std::max(0.0, std::min(y1, y + 1.0) - std::max(y0, y + 0.0));
                at(x, y) = std::min(1.0F, at(x, y) + static_cast<float>(part));
            }
    }
};

int coarse_dot(int size) {
    return std::max(1, size / 10);
}

int letters_width(const std::string& letters, int size, bool bold) {
    const std::string& face = font(bold);
    if (face.empty()) return static_cast<int>(letters.size()) * (coarse_width + 1) * coarse_dot(size);
    static std::mutex guard;
    static std::map<std::tuple<std::string, int, bool>, int> known;
    const std::lock_guard lock(guard);
    if (known.size() > 20000) known.clear();
    const auto [entry, fresh] = known.try_emplace({letters, size, bold}, 0);
    if (fresh) {
        // Between two posts, so that spaces at the ends count.
        const OIIO::ROI with = OIIO::ImageBufAlgo::text_size("|" + letters + "|", size, face);
        const OIIO::ROI without = OIIO::ImageBufAlgo::text_size("||", size, face);
        entry->second = std::max(0, with.width() - without.width());
    }
    return entry->second;
}

int sign_width(char32_t sign, int size, bool bold) {
    return sign == U'·' || sign == U'°'
               ? letters_width(sign == U'°' ? "o" : ".", size, bold) * (sign == U'°' ? 3 : 4) / 4
               : letters_width("+", size, bold);
}

int width_of(const Run& run, int size, bool bold) {
    return run.sign != 0 ? sign_width(run.sign, size, bold) : letters_width(run.letters, size, bold);
}

void set_letters(Cover& cover, int x, int base, const std::string& letters, int size, bool bold) {
    const std::string& face = font(bold);
    if (!face.empty()) {
        OIIO::ImageBuf sheet(OIIO::ImageSpec(cover.width, cover.height, 1, OIIO::TypeDesc::FLOAT), cover.value.data());
        if (OIIO::ImageBufAlgo::render_text(sheet, x, base, letters, size, face, {1.0F})) return;
    }
    const int dot = coarse_dot(size);
    for (char letter : letters) {
        const char capital = letter >= 'a' && letter <= 'z' ? static_cast<char>(letter - 'a' + 'A') : letter;
        const bool known = capital >= ' ' && capital <= '_';
        const CoarseLetter& dots = coarse_letters[static_cast<std::size_t>((known ? capital : '?') - ' ')];
        for (int row = 0; row < coarse_height; ++row)
            for (int column = 0; column < coarse_width; ++column)
                if ((dots[static_cast<std::size_t>(row)] >> (coarse_width - 1 - column)) & 1)
                    cover.box(x + column * dot, base + (row - coarse_height) * dot, x + (column + 1) * dot,
                              base + (row - coarse_height + 1) * dot);
        x += (coarse_width + 1) * dot;
    }
}

void set_sign(Cover& cover, int x, int base, char32_t sign, int size, bool bold) {
    const double width = sign_width(sign, size, bold);
    const double stroke = std::max(1.0, size * (bold ? 0.12 : 0.08));
    const double middle = base - std::round(size * 0.31);
    if (sign == U'°') return set_letters(cover, x, base - size / 3, "o", size * 2 / 3, bold);
    if (sign == U'·')
        return cover.box(x + width / 2 - stroke * 0.75, middle - stroke * 0.75, x + width / 2 + stroke * 0.75,
                         middle + stroke * 0.75);
    const double from = x + width * 0.13, to = x + width * 0.87;
    if (sign == U'−') return cover.box(from, middle - stroke / 2, to, middle + stroke / 2);
    const double arm = width * 0.34, upright = middle - size * 0.06;
    cover.box(from, upright - stroke / 2, to, upright + stroke / 2);
    cover.box(x + width / 2 - stroke / 2, upright - arm, x + width / 2 + stroke / 2, upright + arm);
    cover.box(from, base - stroke, to, base);
}

int halo_reach(int size) {
    return std::clamp(size / 8, 1, 5);
}

void lay_halo(Image& image, Cover& cover, int x, int y, const Colour& halo, int reach) {
    for (int row = 0; row < cover.height; ++row)
        for (int column = 0; column < cover.width; ++column) {
            float most = 0;
            for (int dy = -reach; dy <= reach; ++dy)
                for (int dx = -reach; dx <= reach; ++dx) {
                    const int from_x = column + dx, from_y = row + dy;
                    if (from_x < 0 || from_y < 0 || from_x >= cover.width || from_y >= cover.height) continue;
                    const double near = std::clamp(reach + 0.6 - std::hypot(dx, dy), 0.0, 1.0);
                    most = std::max(most, static_cast<float>(near) * cover.at(from_x, from_y));
                }
            image.blend(x + column, y + row, halo, 0.85F * most);
        }
}

}  // namespace

int text_width(std::string_view text, const Lettering& how) {
    int width = 0;
    for (const Run& run : runs_of(text)) width += width_of(run, how.size, how.bold);
    return width;
}

PixelBox text_box(int x, int y, std::string_view text, const Lettering& how) {
    const int width = text_width(text, how), border = halo_reach(how.size) + 2;
    const int left = how.align == Align::left ? x : how.align == Align::middle ? x - width / 2 : x - width;
    return {left - border, y - how.size - border, left + width + border, y + how.size / 3 + border};
}

PixelBox write_text(Image& image, int x, int y, std::string_view text, const Lettering& how) {
    const PixelBox box = text_box(x, y, text, how);
    Cover cover(box.x1 - box.x0, box.y1 - box.y0);
    const int border = halo_reach(how.size) + 2;
    int pen = border;
    for (const Run& run : runs_of(text)) {
        if (run.sign != 0)
            set_sign(cover, pen, y - box.y0, run.sign, how.size, how.bold);
        else
            set_letters(cover, pen, y - box.y0, run.letters, how.size, how.bold);
        pen += width_of(run, how.size, how.bold);
    }
    if (how.halo) lay_halo(image, cover, box.x0, box.y0, *how.halo, halo_reach(how.size));
    for (int row = 0; row < cover.height; ++row)
        for (int column = 0; column < cover.width; ++column)
            image.blend(box.x0 + column, box.y0 + row, how.ink, cover.at(column, row));
    return box;
}

std::string fitted(std::string_view text, int width, const Lettering& how) {
    std::u32string kept = code_points(text);
    if (text_width(text, how) <= width) return utf8(kept);
    while (!kept.empty() && text_width(utf8(kept) + "...", how) > width) kept.pop_back();
    while (!kept.empty() && kept.back() == U' ') kept.pop_back();
    return utf8(kept) + "...";
}

void use_coarse_letters(bool coarse) {
    coarse_wanted = coarse;
}

}  // namespace rushlight
