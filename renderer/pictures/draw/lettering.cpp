#include "pictures/draw/lettering.h"

#include "pictures/draw/coarse_letters.h"
#include "pictures/draw/font.h"
#include "pictures/words/utf8.h"

#include <cairo.h>
#include <pango/pangocairo.h>

#include <algorithm>
#include <atomic>
#include <cmath>
#include <map>
#include <mutex>
#include <tuple>

namespace rushlight {
namespace {

std::atomic<bool> coarse_wanted{false};

bool coarse() {
    return coarse_wanted || !letters_there();
}

/// What the coarse alphabet has for a text: ASCII.
std::string plain_ascii(std::string_view text) {
    std::string plain;
    for (const char32_t c : code_points(text)) {
        if (c == U'−')
            plain += '-';
        else if (c == U'±')
            plain += "+-";
        else if (c == U'·')
            plain += '.';
        else if (c == U'×')
            plain += 'x';
        else if (c == U'…')
            plain += "...";
        else if (c == U'°')
            plain += " deg";
        else if (columns(utf8({&c, 1})) > 0) {
            const char letter = plain_letter(c);
            plain += letter != 0 ? letter : '?';
        }
    }
    return plain;
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

/// One line of text as the library sets it, on pixels: the same on every machine that has the font.
class SetLine {
public:
    SetLine(cairo_t* on, std::string_view text, int size, bool bold) : layout_(pango_cairo_create_layout(on)) {
        cairo_font_options_t* options = cairo_font_options_create();
        cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
        cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_SLIGHT);
        cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_ON);
        pango_cairo_context_set_font_options(pango_layout_get_context(layout_), options);
        cairo_font_options_destroy(options);
        set_font(layout_, size, bold);
        pango_layout_set_single_paragraph_mode(layout_, 1);
        const std::string sound = utf8(code_points(text));
        pango_layout_set_text(layout_, sound.c_str(), static_cast<int>(sound.size()));
    }
    SetLine(const SetLine&) = delete;
    SetLine& operator=(const SetLine&) = delete;
    ~SetLine() { g_object_unref(layout_); }

    int width() const {
        PangoRectangle lies;
        pango_layout_get_pixel_extents(layout_, nullptr, &lies);
        return lies.width;
    }
    void draw(cairo_t* on, int x, int base) const {
        cairo_move_to(on, x, base);
        pango_cairo_show_layout_line(on, pango_layout_get_line_readonly(layout_, 0));
    }

private:
    PangoLayout* layout_;
};

/// A sheet on which letters are only how much they cover.
class CoverSheet {
public:
    CoverSheet(int width, int height)
        : surface_(cairo_image_surface_create(CAIRO_FORMAT_A8, width, height)), on_(cairo_create(surface_)) {}
    CoverSheet(const CoverSheet&) = delete;
    CoverSheet& operator=(const CoverSheet&) = delete;
    ~CoverSheet() {
        cairo_destroy(on_);
        cairo_surface_destroy(surface_);
    }
    cairo_t* on() const { return on_; }
    void add_to(Cover& cover) const {
        cairo_surface_flush(surface_);
        const unsigned char* data = cairo_image_surface_get_data(surface_);
        if (data == nullptr) return;
        const int stride = cairo_image_surface_get_stride(surface_);
        for (int y = 0; y < cover.height; ++y)
            for (int x = 0; x < cover.width; ++x) cover.at(x, y) = static_cast<float>(data[y * stride + x]) / 255.0F;
    }

private:
    cairo_surface_t* surface_;
    cairo_t* on_;
};

int width_of(std::string_view text, int size, bool bold) {
    if (coarse()) return static_cast<int>(plain_ascii(text).size()) * (coarse_width + 1) * coarse_dot(size);
    static std::mutex guard;
    static std::map<std::tuple<std::string, int, bool>, int> known;
    const std::lock_guard lock(guard);
    constexpr std::size_t most_known = 20'000;
    if (known.size() > most_known) known.clear();
    const auto [entry, fresh] = known.try_emplace({std::string(text), size, bold}, 0);
    if (fresh) {
        const CoverSheet none(1, 1);
        entry->second = SetLine(none.on(), text, size, bold).width();
    }
    return entry->second;
}

void set_coarse(Cover& cover, int x, int base, const std::string& letters, int size) {
    const int dot = coarse_dot(size);
    for (const char letter : letters) {
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

void set_letters(Cover& cover, int x, int base, std::string_view text, int size, bool bold) {
    if (coarse()) return set_coarse(cover, x, base, plain_ascii(text), size);
    const CoverSheet sheet(cover.width, cover.height);
    SetLine(sheet.on(), text, size, bold).draw(sheet.on(), x, base);
    sheet.add_to(cover);
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

bool letters_there() {
    static const bool there = [] {
        PangoContext* context = pango_font_map_create_context(pango_cairo_font_map_get_default());
        PangoLayout* layout = pango_layout_new(context);
        pango_layout_set_text(layout, "Aa 09", -1);
        const bool all = pango_layout_get_unknown_glyphs_count(layout) == 0;
        g_object_unref(layout);
        g_object_unref(context);
        return all;
    }();
    return there;
}

int text_width(std::string_view text, const Lettering& how) {
    return width_of(text, how.size, how.bold);
}

PixelBox text_box(int x, int y, std::string_view text, const Lettering& how) {
    const int width = text_width(text, how), border = halo_reach(how.size) + 2;
    const int left = how.align == Align::left ? x : how.align == Align::middle ? x - width / 2 : x - width;
    return {left - border, y - how.size - border, left + width + border, y + how.size / 3 + border};
}

PixelBox write_text(Image& image, int x, int y, std::string_view text, const Lettering& how) {
    const PixelBox box = text_box(x, y, text, how);
    Cover cover(box.x1 - box.x0, box.y1 - box.y0);
    set_letters(cover, halo_reach(how.size) + 2, y - box.y0, text, how.size, how.bold);
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
