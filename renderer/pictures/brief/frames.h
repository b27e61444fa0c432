// Frames of a brief as pictures, and as layers that a page can mix again.
#pragma once

#include "pictures/draw/image.h"
#include "results/brief/brief.h"

#include <string>
#include <vector>

namespace rushlight {

/// Developed as the camera would show it, filters before the lens included.
Image picture_of(const BriefFrame& frame);

/// The light of one source in 8 bits: linear BT.709 with the camera's white balance, 0.18 at grey, each channel is
/// `scale` times the cube of its share of 255. A cube spreads the steps much as an eye does, and a fixed pattern of
/// less than a step hides what is left of them.
struct FaderLayer {
    std::string source;
    double scale = 1;
    std::string png;
};
struct FaderFrame {
    int width = 0, height = 0;
    std::vector<FaderLayer> layers;  // sources that give light
};
FaderFrame fader_frame(const BriefFrame& frame, int width);

/// Pixels across at which all frames of a brief, as layers, come to no more than `most_bytes` in a page; 0 where even
/// the least that can be looked at would be more.
int fader_width(const Brief& brief, double most_bytes);

}  // namespace rushlight
