#include "pictures/draw/paper.h"

#include "pictures/draw/font.h"
#include "pictures/words/utf8.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <cairo.h>
#include <pango/pangocairo.h>

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

cairo_status_t append(void* to, const unsigned char* data, unsigned int length) {
    static_cast<std::string*>(to)->append(reinterpret_cast<const char*>(data), length);
    return CAIRO_STATUS_SUCCESS;
}

void set_colour(cairo_t* c, const Colour& colour, double cover) {
    cairo_set_source_rgba(c, static_cast<double>(colour[0]), static_cast<double>(colour[1]),
                          static_cast<double>(colour[2]), cover);
}

/// Line breaks stay, other control characters go.
std::string sound(const std::string& words) {
    std::string all;
    for (std::size_t from = 0; from <= words.size();) {
        const std::size_t to = std::min(words.find('\n', from), words.size());
        all += (from > 0 ? "\n" : "") + utf8(code_points(words.substr(from, to - from)));
        from = to + 1;
    }
    return all;
}

}  // namespace

struct Paper::Sheet {
    std::string bytes;
    cairo_surface_t* surface = nullptr;
    cairo_t* on = nullptr;
    PangoLayout* layout = nullptr;

    void set(const std::string& words, const TextLook& look) const {
        set_font(layout, look.size, look.bold, look.fixed);
        pango_layout_set_width(layout, look.width > 0 ? static_cast<int>(look.width * PANGO_SCALE) : -1);
        pango_layout_set_wrap(layout, PANGO_WRAP_WORD_CHAR);
        pango_layout_set_alignment(layout, look.align == Align::left    ? PANGO_ALIGN_LEFT
                                           : look.align == Align::right ? PANGO_ALIGN_RIGHT
                                                                        : PANGO_ALIGN_CENTER);
        const std::string text = sound(words);
        pango_layout_set_text(layout, text.c_str(), static_cast<int>(text.size()));
    }
    void path(std::span<const Point> corners, bool closed) const {
        for (std::size_t i = 0; i < corners.size(); ++i)
            i == 0 ? cairo_move_to(on, corners[i].x, corners[i].y) : cairo_line_to(on, corners[i].x, corners[i].y);
        if (closed) cairo_close_path(on);
    }
    void draw(const Stroke& s) const {
        set_colour(on, s.colour, s.cover);
        cairo_set_line_width(on, s.width);
        cairo_set_dash(on, s.dashes.data(), static_cast<int>(s.dashes.size()), 0);
        cairo_stroke(on);
    }
};

double PaperBox::shared_area(const PaperBox& o) const {
    return std::max(0.0, std::min(x1, o.x1) - std::max(x0, o.x0)) *
           std::max(0.0, std::min(y1, o.y1) - std::max(y0, o.y0));
}

void expect_letters() {
    if (!letters_there())
        throw OutputError(
            "there are no letters to set text in: no font is installed, or fontconfig finds none; DejaVu Sans will do");
}

Paper::Paper(Kind kind, double width, double height, const PaperWords& words) : sheet_(std::make_unique<Sheet>()) {
    expect_letters();
    if (kind == Kind::pdf) {
        sheet_->surface = cairo_pdf_surface_create_for_stream(append, &sheet_->bytes, width, height);
        cairo_pdf_surface_set_metadata(sheet_->surface, CAIRO_PDF_METADATA_TITLE, sound(words.title).c_str());
        cairo_pdf_surface_set_metadata(sheet_->surface, CAIRO_PDF_METADATA_CREATOR, "rushlight");
        cairo_pdf_surface_set_metadata(sheet_->surface, CAIRO_PDF_METADATA_CREATE_DATE, words.date.c_str());
    } else {
        sheet_->surface = cairo_svg_surface_create_for_stream(append, &sheet_->bytes, width, height);
        cairo_svg_surface_set_document_unit(sheet_->surface, CAIRO_SVG_UNIT_PT);
    }
    sheet_->on = cairo_create(sheet_->surface);
    cairo_set_line_join(sheet_->on, CAIRO_LINE_JOIN_ROUND);
    sheet_->layout = pango_cairo_create_layout(sheet_->on);
    // Letters lie where they are meant to, at any size: no rounding to a screen's pixels.
    cairo_font_options_t* options = cairo_font_options_create();
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    pango_cairo_context_set_font_options(pango_layout_get_context(sheet_->layout), options);
    cairo_font_options_destroy(options);
}

Paper::~Paper() {
    g_object_unref(sheet_->layout);
    cairo_destroy(sheet_->on);
    cairo_surface_destroy(sheet_->surface);
}

void Paper::next_page() {
    cairo_show_page(sheet_->on);
}

void Paper::lines(std::span<const Point> corners, bool closed, const Stroke& stroke) {
    sheet_->path(corners, closed);
    sheet_->draw(stroke);
}

void Paper::line(Point from, Point to, const Stroke& stroke) {
    const Point both[] = {from, to};
    lines(both, false, stroke);
}

void Paper::fill(std::span<const Point> corners, const Colour& colour, double cover) {
    sheet_->path(corners, true);
    set_colour(sheet_->on, colour, cover);
    cairo_fill(sheet_->on);
}

void Paper::circle(Point middle, double radius, const Stroke* stroke, const Colour* inside) {
    cairo_t* c = sheet_->on;
    cairo_new_sub_path(c);
    cairo_arc(c, middle.x, middle.y, radius, 0, 2 * pi);
    if (inside != nullptr) {
        set_colour(c, *inside, 1);
        stroke != nullptr ? cairo_fill_preserve(c) : cairo_fill(c);
    }
    if (stroke != nullptr) sheet_->draw(*stroke);
}

void Paper::arrow(Point from, Point to, double head, const Stroke& stroke) {
    const double dx = to.x - from.x, dy = to.y - from.y, length = std::hypot(dx, dy);
    if (!(length > 0)) return;
    const double ux = dx / length, uy = dy / length;
    const Point base{to.x - ux * head, to.y - uy * head};
    line(from, base, stroke);
    const Point tip[] = {to,
                         {base.x - uy * head * 0.36, base.y + ux * head * 0.36},
                         {base.x + uy * head * 0.36, base.y - ux * head * 0.36}};
    fill(tip, stroke.colour, stroke.cover);
}

PaperSize Paper::size_of(const std::string& words, const TextLook& look) {
    sheet_->set(words, look);
    PangoRectangle r;
    pango_layout_get_extents(sheet_->layout, nullptr, &r);
    return {static_cast<double>(r.width) / PANGO_SCALE, static_cast<double>(r.height) / PANGO_SCALE};
}

PaperBox Paper::text(Point at, const std::string& words, const TextLook& look) {
    const PaperSize size = size_of(words, look);
    const double across = look.width > 0 ? look.width : size.width;
    const double left = look.align == Align::left    ? at.x
                        : look.align == Align::right ? at.x - across
                                                     : at.x - across / 2;
    // Lines of a text without a width are aligned within the widest of them.
    if (look.width <= 0) pango_layout_set_width(sheet_->layout, static_cast<int>(std::ceil(size.width * PANGO_SCALE)));
    cairo_t* c = sheet_->on;
    if (look.halo) {
        const double inked = look.align == Align::left    ? left
                             : look.align == Align::right ? left + across - size.width
                                                          : left + (across - size.width) / 2;
        cairo_rectangle(c, inked - 1, at.y, size.width + 2, size.height);
        set_colour(c, {1, 1, 1}, 0.72);
        cairo_fill(c);
    }
    cairo_move_to(c, left, at.y);
    set_colour(c, look.colour, 1);
    pango_cairo_show_layout(c, sheet_->layout);
    cairo_new_path(c);
    return {left, at.y, left + across, at.y + size.height};
}

void Paper::picture(const Image& display, const PaperBox& box) {
    if (display.width <= 0 || display.height <= 0 || !(box.width() > 0) || !(box.height() > 0)) return;
    cairo_surface_t* image = cairo_image_surface_create(CAIRO_FORMAT_RGB24, display.width, display.height);
    if (cairo_surface_status(image) != CAIRO_STATUS_SUCCESS) {
        cairo_surface_destroy(image);
        throw OutputError("cannot put a picture of " + std::to_string(display.width) + " x " +
                          std::to_string(display.height) + " pixels on paper");
    }
    // A stream that other programs read as it is; the pixels are for what has no use for it.
    auto* stream = new std::string(jpeg(display));
    cairo_surface_set_mime_data(
        image, CAIRO_MIME_TYPE_JPEG, reinterpret_cast<const unsigned char*>(stream->data()), stream->size(),
        [](void* p) { delete static_cast<std::string*>(p); }, stream);
    cairo_t* c = sheet_->on;
    cairo_save(c);
    cairo_translate(c, box.x0, box.y0);
    cairo_scale(c, box.width() / display.width, box.height() / display.height);
    cairo_set_source_surface(c, image, 0, 0);
    cairo_paint(c);
    cairo_restore(c);
    cairo_surface_destroy(image);
}

void Paper::keep_to(const PaperBox& box) {
    cairo_save(sheet_->on);
    cairo_rectangle(sheet_->on, box.x0, box.y0, box.width(), box.height());
    cairo_clip(sheet_->on);
}

void Paper::let_go() {
    cairo_restore(sheet_->on);
}

std::string Paper::bytes() {
    cairo_surface_finish(sheet_->surface);
    const cairo_status_t status = cairo_surface_status(sheet_->surface);
    if (status != CAIRO_STATUS_SUCCESS)
        throw OutputError(std::string("cannot draw the pages: ") + cairo_status_to_string(status));
    return sheet_->bytes;
}

}  // namespace rushlight
