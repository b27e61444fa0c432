// A filter for looking at frames that are still noisy. It smooths light that was bounced on its way and, less far,
// the light of the sky, over one surface at a time; what lamps and sun throw, and its shadows, stay as traced. Never
// used under a reading or a map, and the layers on disk stay unfiltered.
#pragma once

#include "paths/work/effort.h"
#include "results/frame/layered_frame.h"
#include "results/frame/surface_guides.h"

#include <vector>

namespace rushlight {

/// How one frame is filtered; several lights may be, one after the other.
class PreviewFilter {
public:
    /// Keeps hold of the frame. Work that is dropped (paths/work/effort.h) leaves a frame half filtered.
    explicit PreviewFilter(const LayeredFrame& frame, const Effort& effort = {});
    /// As preview_correction(), of this light instead of the frame's; an empty `soft` is none.
    std::vector<Vec3> correction(const std::vector<Vec3>& bounced, const std::vector<Vec3>& soft) const;

private:
    struct FringePart {
        Guide guide;
        Vec3 reflectance;
        bool hit = false;
    };
    void add_correction(const std::vector<Vec3>& traced, int levels, std::vector<Vec3>& correction) const;
    /// The pixels on sharp edges, part by part: without it they would show steps.
    void correct_fringes(const std::vector<Vec3>& light, const std::vector<Vec3>& traced,
                         std::vector<Vec3>& filtered) const;

    const LayeredFrame& frame_;
    const Effort effort_;
    int levels_ = 0;  // 0: clean enough
    bool any_hair_ = false;
    std::vector<Guide> guides_;
    std::vector<Vec3> reflectance_;
    std::vector<FringePart> parts_;  // of all fringes
};

/// The light to add to each pixel's X, Y, Z (cd/m2) to see it filtered. An edge-avoiding a-trous filter (Dammertz et
/// al. 2010) on light without the surface's own reflectance, guided by normals and planes alone: it looks at no
/// brightness, so that it is linear in the light and does not darken what is noisy. How far it reaches follows from the
/// frame's noise; a clean frame gets none. Pixels on sharp edges are put together of their parts. In hair alone it
/// looks at brightness: sparks are spread.
std::vector<Vec3> preview_correction(const LayeredFrame& frame);

}  // namespace rushlight
