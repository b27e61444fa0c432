// The open denoising network: a U-Net of sixteen 3 x 3 convolutions over four halvings (Ronneberger et al., "U-Net",
// MICCAI 2015; for traced pictures Chaitanya et al., SIGGRAPH 2017), with published weights. It takes noise out of a
// picture by what it was taught of pictures, helped by what is known without noise of the surfaces that are seen.
#pragma once

#include "paths/work/effort.h"
#include "quantity/space.h"

#include <string>
#include <vector>

namespace rushlight {

/// What it is given, row by row.
struct NoisyPicture {
    int width = 0, height = 0;
    std::vector<Vec3> light;   // linear, any unit, three channels that are equal for white
    std::vector<Vec3> albedo;  // 0..1 in the same channels
    std::vector<Vec3> normal;  // unit; zero where there is none
};

/// Whether the program was built with it, and what runs it lies beside the program.
bool has_network();
/// A sentence for people where it has not; else empty.
std::string network_remark();

/// The light without its noise. The same bits from any number of threads: what is split is the picture, always in the
/// same pieces, and a piece is one thread's. Empty where the work was dropped, or the program has no network.
std::vector<Vec3> without_noise(const NoisyPicture& picture, const Effort& effort);

}  // namespace rushlight
