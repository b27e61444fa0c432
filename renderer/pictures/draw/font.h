// The font that everything is lettered in, for the files that see the library which sets text.
#pragma once

#include <pango/pango.h>

namespace rushlight {

/// `size`: of the letters with their descent, in units of the layout's surface.
inline void set_font(PangoLayout* layout, double size, bool bold, bool fixed = false) {
    PangoFontDescription* font = pango_font_description_new();
    pango_font_description_set_family(font, fixed ? "DejaVu Sans Mono" : "DejaVu Sans");
    pango_font_description_set_weight(font, bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
    pango_font_description_set_absolute_size(font, size * PANGO_SCALE);
    pango_layout_set_font_description(layout, font);
    pango_font_description_free(font);
}

}  // namespace rushlight
