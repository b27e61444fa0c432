// Words and numbers on a picture, with a thin halo so that they read on anything.
#pragma once

#include "pictures/draw/image.h"

#include <optional>
#include <string>
#include <string_view>

namespace rushlight {

enum class Align { left, middle, right };

struct Lettering {
    int size = 16;  // height of the letters with their descent, pixels
    bool bold = false;
    Align align = Align::left;
    Colour ink{0.1F, 0.1F, 0.1F};
    std::optional<Colour> halo;  // none: letters only
};

/// Pixels from x0 up to but not including x1, and so in y.
struct PixelBox {
    int x0 = 0, y0 = 0, x1 = 0, y1 = 0;
    bool touches(const PixelBox& o) const { return x0 < o.x1 && o.x0 < x1 && y0 < o.y1 && o.y0 < y1; }
};

/// Whether the machine has a font. Without one, letters are coarse: accents are dropped (é becomes e), and signs that
/// the coarse alphabet lacks become '?'.
bool letters_there();

/// Writes `text` with the left end, middle or right end of its base line at x, y. Gives back the box that holds every
/// pixel changed.
PixelBox write_text(Image& image, int x, int y, std::string_view text, const Lettering& how);
/// Where write_text would write.
PixelBox text_box(int x, int y, std::string_view text, const Lettering& how);
int text_width(std::string_view text, const Lettering& how);
/// `text`, shortened with three dots when it is wider than `width` pixels.
std::string fitted(std::string_view text, int width, const Lettering& how);

/// For tests: as if the font were missing.
void use_coarse_letters(bool coarse);

}  // namespace rushlight
