// A frame with the light of each source kept apart, in bands: any level, gel or exposure can be put on it
// afterwards.
#pragma once

#include "quantity/spectrum.h"
#include "setup/rig.h"

#include <cstdint>
#include <string>
#include <vector>

namespace rushlight {

struct LayeredFrame {
    int width = 0, height = 0;
    std::vector<std::string> sources;
    std::vector<std::vector<Spectrum>> layers;  // [source][pixel]: radiance, photometric unit cd/m2
    // X, Y, Z (cd/m2) of what a preview may smooth: what fell from the sky on the first surface, and what was
    // bounced before it fell there.
    std::vector<Vec3> soft, bounced;
    std::vector<std::vector<Vec3>> bounced_of;  // [source][pixel]: what `bounced` is the sum of
    std::vector<float> error;  // standard error of the pixel's luminance, cd/m2
    // What the first surface is, for the preview filter and for pages; means over the lens where it opens.
    std::vector<Vec3> normal;
    std::vector<float> distance;  // m; infinity where nothing is hit
    std::vector<Spectrum> albedo;
    std::vector<std::uint8_t> hair;  // 1 where most of the pixel is hair
    std::vector<char> mixed;         // where the lens sees several surfaces at once; empty: nowhere
    Camera camera;
    std::string setup, option;
    double seconds = 0;
    std::uint64_t paths_per_pixel = 0;
    double noise = 0;  // mean relative error of a pixel
    std::vector<std::string> remarks;

    std::size_t at(int x, int y) const {
        return static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x);
    }
};

}  // namespace rushlight
