// Where bright things lie that no list of lights knows: the shade round a bulb, a cloth or a board that a lamp is
// pointed at, the patch of ceiling over a tall lamp. A few light paths find them; meters send a share of their walks
// there. Any cone will do: every direction is weighed by the pdf with which all ways together take it.
#pragma once

#include "paths/walk/light_paths.h"

#include <span>
#include <vector>

namespace rushlight {

/// A cone of directions, and how often of all aimed ones it is taken.
struct AimedCone {
    Vec3 axis{0, 0, 1};
    float cosine = 0;  // of the half-angle
    float share = 0;
    float inside_pdf() const { return 1.0F / (6.2831853F * (1.0F - cosine)); }
};

/// Pdf per steradian of those directions, and one of them.
float pdf_of(std::span<const AimedCone> cones, const Vec3& toward);
Vec3 drawn_from(std::span<const AimedCone> cones, float which, float u0, float u1);

/// What a part of the scene got of the light.
struct LitPatch {
    Vec3 centre{0, 0, 0};
    float radius = 0;
    float flux = 0;  // lm that it sheds
};
std::vector<LitPatch> lit_patches(const Scene& scene, const LightPaths& found);

struct MeterPoint;
/// Towards those that matter at a meter, beside `others`, whose shares are lux; none where there are no others and all
/// bring little of what it is expected to read.
std::vector<AimedCone> cones_toward(const std::vector<LitPatch>& patches, const MeterPoint& meter,
                                    std::vector<AimedCone> others = {});

/// What all these light paths would bring to the meter if nothing stood between: lux of each layer.
std::vector<float> unhindered(const LightPaths& found, const MeterPoint& meter, std::size_t layers);

}  // namespace rushlight
