// A frame in false colour: how many stops each pixel lies over grey, and what the camera cannot hold.
#pragma once

#include "pictures/frames/frame_picture.h"

#include <string>
#include <vector>

namespace rushlight {

/// A place whose number is printed: skin, a wall beside a head.
struct ExposureMark {
    std::string name;
    double x = 0, y = 0;  // pixels of the frame
    double radius = 3;    // pixels whose mean is said
};

/// What targets want on a key cheek, stops over grey.
struct ExposureKey {
    std::string mark;
    double stops = 0;
};

/// The scale of the light maps, in bands from grey, notched at planned keys; a chequer where the camera clips, dots
/// where it is under the footroom. With marks their numbers are printed, without them a grid of numbers.
Image exposure_picture(const LayeredFrame& frame, const FrameLook& look, const std::vector<ExposureMark>& marks,
                       const std::vector<ExposureKey>& keys = {});

/// Shares of the picture that clip and that lie under the footroom.
struct RangeShares {
    double clipped = 0, lost = 0;
};
RangeShares beyond_range(const std::vector<Tristimulus>& light, const Camera& camera);

}  // namespace rushlight
