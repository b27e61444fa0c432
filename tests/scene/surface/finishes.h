// Finishes by their numbers, for tests of what surfaces do with light.
#pragma once

#include "setup/plain/finish.h"

namespace rushlight::finishes {

inline Finish matt(float share) {
    Finish f;
    f.reflectance = Spectrum{share};
    return f;
}
inline Finish coated(float share, float gloss, float roughness) {
    Finish f = matt(share);
    f.gloss = gloss;
    f.roughness = roughness;
    return f;
}
inline Finish metal(float mirrored, float scattered, float roughness) {
    Finish f = matt(scattered);
    f.metal = Spectrum{mirrored};
    f.roughness = roughness;
    return f;
}
inline Finish cloth(float back, float through, float straight) {
    Finish f = matt(back);
    f.through = Spectrum{through};
    f.straight = Spectrum{straight};
    return f;
}
inline Finish thin_cloth(float through, float spread) {
    Finish f = cloth(0, through, 0);
    f.spread = spread;
    return f;
}
inline Finish pane(float index, float transmittance) {
    Finish f;
    f.pane = true;
    f.pane_index = index;
    f.pane_transmittance = transmittance;
    return f;
}

}  // namespace rushlight::finishes
