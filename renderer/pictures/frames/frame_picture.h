// A frame as a picture to look at: balanced, exposed and shown as the camera's settings say.
#pragma once

#include "pictures/draw/guides.h"
#include "pictures/draw/image.h"
#include "quantity/colour.h"
#include "results/frame/layered_frame.h"

#include <span>
#include <string>

namespace rushlight {

/// Light in X, Y, Z (cd/m2), row by row, to a display image: the camera's white balance, its exposure with
/// grey at grey_luminance, then the display curve of its headroom and footroom.
Image developed(std::span<const Tristimulus> light, int width, int height, const Camera& camera);

struct FrameLook {
    std::vector<double> levels;  // factor of each source's light; empty: as traced
    bool caption = true;
    std::string light;             // what the caption says of the light; empty: the names of the sources
    std::vector<Vec3> correction;  // from a preview filter: X, Y, Z to add to each pixel; the caption says so
    Guides guides = {};
};

/// Those asked for; without an aspect among them, the camera's delivery.
Guides guides_for(Guides asked, const Camera& camera);

/// The light that reaches the sensor through the filters before the lens: X, Y, Z in cd/m2, row by row. `bare`: as if
/// the mist and the graduated filter were left at home.
std::vector<Tristimulus> light_on_sensor(const LayeredFrame& frame, const FrameLook& look, bool bare = false);

Image frame_picture(const LayeredFrame& frame, const FrameLook& look = {});

/// What a person may take the picture for: "final", "preview", "rough preview", "noise left in"; nothing where its noise
/// is not known. The number is in the EXR's header.
std::string frame_standing(const LayeredFrame& frame, bool smoothed);

/// Median of error / luminance over the pixels that can be seen (more than 1/64 of grey); 0 when not known.
double frame_noise(const LayeredFrame& frame);

}  // namespace rushlight
