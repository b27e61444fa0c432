// A frame as one looks at it, by the open denoising network (results/network/network.h).
#pragma once

#include "paths/work/effort.h"
#include "results/frame/layered_frame.h"

#include <vector>

namespace rushlight {

/// X, Y, Z of the frame's light, which is `traced`, without its noise; nothing where the program has no network, the
/// frame lacks what it needs or is clean enough, or the work was dropped. Light is not moved: what the network took or
/// gave over windows of pixels, more than the noise of the traced light there explains, is given back
/// (network/given_back.h).
std::vector<Vec3> denoised(const LayeredFrame& frame, const std::vector<Vec3>& traced, const Effort& effort);

/// `sum` (X, Y, Z of each pixel) as [source][pixel], so that levels can be changed: every source's share of the light
/// is that of its light around, smoothed over one surface at a time, and the shares sum to one. A pixel that no walk
/// lit has the shares of its neighbours.
std::vector<std::vector<Vec3>> shared_out(const LayeredFrame& frame, const std::vector<Vec3>& sum,
                                          const Effort& effort);

/// The same of a map's lux (NaN: nothing there), whose meters face as told.
std::vector<float> denoised(int width, int height, const std::vector<float>& lux, const std::vector<Vec3>& facing,
                            const Effort& effort);

}  // namespace rushlight
