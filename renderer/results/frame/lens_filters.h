// The filters before the lens put on a picture, in linear light before the display curve: a mist spreads light, a
// graduated ND takes some on one side.
#pragma once

#include "quantity/colour.h"
#include "setup/plain/rig.h"

#include <vector>

namespace rushlight {

/// In place; row by row. A camera without such filters changes nothing.
void through_filters(std::vector<Tristimulus>& light, int width, int height, const Camera& camera);
/// The same of one layer, band by band: filters are the same for all light, so layers may be filtered each by itself.
void through_filters(std::vector<Spectrum>& light, int width, int height, const Camera& camera);

/// A `share` of the light goes into two round bells, half each, of the mist's widths; the rest stays. No light is
/// lost: what would leave over an edge comes back from there, as if the picture went on as its own mirror image.
/// `pixels_per_tangent`: pixels of an angle's tangent in the middle of the picture.
void spread(std::vector<Tristimulus>& light, int width, int height, const Mist& mist, double pixels_per_tangent);

/// Sigma, in pixels, of a bell of that full width at half its height, degrees.
double bell_sigma(double width_at_half, double pixels_per_tangent);

/// Light that the graduated filter lets through at pixel x, y.
double graduated_share(const Graduated& filter, int width, int height, double x, double y);

/// The effect of a mist, for words: means over the picture, cd/m2.
struct MistEffect {
    double mean = 0;  // luminance of the picture
    double lift = 0;  // of its darkest twentieth
    double halo = 0;  // degrees round a bright point within which half of the spread light falls
};
MistEffect mist_effect(const std::vector<Tristimulus>& before, const std::vector<Tristimulus>& after, const Mist& mist);

}  // namespace rushlight
