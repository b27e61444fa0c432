// Lines that an operator frames by, drawn on a picture: where a narrower picture would be cut, thirds, the middle.
#pragma once

#include "pictures/draw/image.h"

#include <string>
#include <vector>

namespace rushlight {

struct Guides {
    std::vector<double> aspects;  // width over height; the picture outside is dimmed for the first
    bool thirds = false, centre = false, safe = false;

    bool any() const { return thirds || centre || safe || !aspects.empty(); }
};
/// "2.39,thirds": numbers are aspects (also 16:9), words are thirds, centre, safe. Nothing where a part is neither;
/// `wrong` then holds that part.
bool guides_from(const std::string& text, Guides& guides, std::string& wrong);
inline const std::vector<std::string>& guide_words() {
    static const std::vector<std::string> words{"thirds", "centre", "safe"};
    return words;
}

/// The part of a picture that is left at this aspect, in pixels.
struct Window {
    double x0, y0, x1, y1;
};
Window window_of(double aspect, int width, int height);

/// Thirds, middle and safe area (nine tenths each way: common practice, no source) lie in the first aspect's window.
/// `dim`: how much of the picture outside it is covered.
void draw_guides(Image& image, const Guides& guides, double dim = 0.62);

}  // namespace rushlight
