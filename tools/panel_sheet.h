// Small pictures in rows, each with its name below: for the pages that are rendered from runs.
#pragma once

#include "pictures/draw/image.h"
#include "pictures/draw/lettering.h"

#include <cmath>
#include <string>

namespace rushlight {

class PanelSheet {
public:
    PanelSheet(int width, int height, int in_a_row, int count)
        : width_(width),
          height_(height),
          in_a_row_(in_a_row),
          image_(std::min(in_a_row, count) * (width + gap) - gap,
                 (count + in_a_row - 1) / in_a_row * (height + name_height + gap) - gap, {1, 1, 1}) {}

    /// A display image of the width and height given.
    void add(const std::string& name, const Image& panel) {
        const int x0 = next_ % in_a_row_ * (width_ + gap), y0 = next_ / in_a_row_ * (height_ + name_height + gap);
        ++next_;
        // Steps this small are not seen, and make the file smaller.
        for (int y = 0; y < panel.height; ++y)
            for (int x = 0; x < panel.width; ++x) {
                Colour c = panel.pixel(x, y);
                for (float& v : c) v = std::round(v * 128) / 128;
                image_.set(x0 + x, y0 + y, c);
            }
        constexpr int letters = 13, least_letters = 11;
        Lettering how{letters, false, Align::middle, {0.1F, 0.1F, 0.1F}, {}};
        while (how.size > least_letters && text_width(name, how) > width_) --how.size;
        write_text(image_, x0 + width_ / 2, y0 + height_ + 15, fitted(name, width_, how), how);
    }
    const Image& image() const { return image_; }

private:
    static constexpr int name_height = 20, gap = 4;
    int width_, height_, in_a_row_, next_ = 0;
    Image image_;
};

}  // namespace rushlight
