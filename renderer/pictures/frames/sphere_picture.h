// The sphere of light that a meter sees, as a picture with its own scale, and what lights the point beside it.
#pragma once

#include "pictures/draw/image.h"
#include "results/compare/best_place.h"
#include "results/compare/origins.h"
#include "results/frame/sphere.h"

#include <span>

namespace rushlight {

/// Colours count stops from an even surround that would give the same reading, L = E / pi (a dome: E / (2 pi)): what
/// is over it gives more than its share of the sky it fills.
Image sphere_picture(const Origins& origins, const Sphere& sphere, const LastSurfaces& surfaces,
                     std::span<const BestPlace> places);

}  // namespace rushlight
