// A frame or a map of the light with every lamp at full, traced in stages and packed for the page.
#pragma once

#include "desk/light/live_light.h"

namespace rushlight::desk {

/// Fingerprint of a picture of a scene; empty where there is no picture to make.
std::string view_fingerprint(const Setup& asked, const View& view);

/// One stage, `part` of the view's width: 1, or 2 or 4 for a first look. `effort` says how long and by which seed.
LayeredFrame trace_stage(const Setup& asked, const Scene& scene, const View& view, int part, const Effort& effort);

/// `smoothed`: a frame's layers as a preview shows them, each smoothed by itself, so that levels still only multiply. A
/// layer that was packed before of the same light is taken as it is. Dropped work must not be shown.
PackedPicture pack(const PictureLight& light, const Setup& asked, View::Kind kind, bool smoothed,
                   const Effort& effort = {});

}  // namespace rushlight::desk
