// A sheet to draw on with lines that stay sharp at any size: SVG in memory, or the pages of a PDF. The only files that
// see the vector library and the one that sets text. Points (1/72 inch), x to the right, y down.
#pragma once

#include "pictures/draw/drawing.h"
#include "pictures/draw/image.h"
#include "pictures/draw/lettering.h"

#include <memory>
#include <span>
#include <string>
#include <vector>

namespace rushlight {

inline constexpr double points_per_mm = 72 / 25.4;

struct Stroke {
    Colour colour{0, 0, 0};
    double width = 0.75;         // pt
    std::vector<double> dashes;  // pt, on and off by turns; empty: unbroken
    double cover = 1;
};

struct TextLook {
    double size = 9;  // pt
    bool bold = false;
    Align align = Align::left;
    Colour colour{0.08F, 0.08F, 0.09F};
    double width = 0;    // pt that a line may take; longer ones go on below. 0: any
    bool halo = false;   // white under the letters
    bool fixed = false;  // letters of one width
};

struct PaperBox {
    double x0 = 0, y0 = 0, x1 = 0, y1 = 0;
    double width() const { return x1 - x0; }
    double height() const { return y1 - y0; }
    double shared_area(const PaperBox& o) const;
};

struct PaperSize {
    double width = 0, height = 0;
};

/// The title and author that a PDF carries.
struct PaperWords {
    std::string title;
    std::string date;  // "2026-10-14T10:40:00Z"; the same file gives the same bytes
};

/// Throws OutputError where the machine has no letters to set text in.
void expect_letters();

class Paper {
public:
    enum class Kind { svg, pdf };
    Paper(Kind kind, double width, double height, const PaperWords& words = {});
    ~Paper();
    Paper(const Paper&) = delete;
    Paper& operator=(const Paper&) = delete;

    void next_page();
    void lines(std::span<const Point> corners, bool closed, const Stroke& stroke);
    void line(Point from, Point to, const Stroke& stroke);
    void fill(std::span<const Point> corners, const Colour& colour, double cover = 1);
    void circle(Point middle, double radius, const Stroke* stroke, const Colour* inside);
    void arrow(Point from, Point to, double head, const Stroke& stroke);
    /// The text's upper edge lies at `at.y`; `at.x` is its left edge, middle or right edge, by its align.
    PaperBox text(Point at, const std::string& words, const TextLook& look);
    PaperSize size_of(const std::string& words, const TextLook& look);
    /// 8 bits, compressed as photographs are; scaled to the box.
    void picture(const Image& display, const PaperBox& box);
    /// Nothing is drawn outside the box until it is let go of.
    void keep_to(const PaperBox& box);
    void let_go();

    /// Ends the sheet: its bytes. Throws OutputError where the library gave up.
    std::string bytes();

private:
    struct Sheet;
    std::unique_ptr<Sheet> sheet_;
};

}  // namespace rushlight
