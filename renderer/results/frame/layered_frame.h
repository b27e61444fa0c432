// A frame with the light of each source kept apart, in bands: any level, gel or exposure can be put on it
// afterwards.
#pragma once

#include "quantity/spectrum.h"
#include "setup/plain/rig.h"

#include <array>
#include <cstdint>
#include <limits>
#include <string>
#include <vector>

namespace rushlight {

/// The surface that is seen first, through glass and nets.
struct SurfaceSeen {
    Vec3 normal{0, 0, 1};
    float distance = std::numeric_limits<float>::infinity();  // m; infinity where nothing is hit
    Spectrum albedo;
    bool hair = false;
    bool mixed = false;  // the lens sees several surfaces at once
};

/// A pixel that sees parts of several surfaces: what it sees in some places of it.
struct Fringe {
    std::size_t pixel = 0;
    std::array<SurfaceSeen, 8> parts;
};

struct LayeredFrame {
    int width = 0, height = 0;
    std::vector<std::string> sources;
    std::vector<std::vector<Spectrum>> layers;  // [source][pixel]: radiance, photometric unit cd/m2
    // X, Y, Z (cd/m2) of what a preview may smooth: what fell from the sky on the first surface, and what was
    // bounced before it fell there.
    std::vector<Vec3> soft, bounced;
    std::vector<std::vector<Vec3>> bounced_of;  // [source][pixel]: what `bounced` is the sum of
    std::vector<float> error;                   // standard error of the pixel's luminance, cd/m2
    // The first surface of each pixel, for the preview filter and for pages; means over the lens where it opens.
    std::vector<Vec3> normal;
    std::vector<float> distance;  // m; infinity where nothing is hit
    std::vector<Spectrum> albedo;
    std::vector<std::uint8_t> hair;  // 1 where most of the pixel is hair
    std::vector<char> mixed;         // where the lens sees several surfaces at once; empty: nowhere
    std::vector<Fringe> fringes;     // sharp edges
    // For the denoising network: means over the pixel of what it shows, through glass and by way of mirrors, without
    // noise. X, Y, Z of the reflectance, each over that of white; the normal is shorter where a pixel shows several.
    std::vector<Vec3> clean_albedo, clean_normal;
    std::vector<float> clean_hair;  // share of the pixel that is hair
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
