// The sky cut into patches of about one size, so that each can be told apart as a source: light that was traced once
// from all of them is the light of any sky, each patch weighed by how bright it is at that hour.
#pragma once

#include "scene/light/sky.h"

#include <vector>

namespace rushlight {

class SkyPatches {
public:
    /// `rings` of equal height from the horizon to the zenith, each cut into sectors about as wide as they are high.
    explicit SkyPatches(int rings);

    std::size_t count() const { return first_.back(); }
    /// Number of the patch that holds unit `toward`, z >= 0.
    std::size_t of(const Vec3& toward) const;
    /// Mean luminance of every patch over that at the zenith (over its solid angle, from 5 x 5 places in it).
    std::vector<float> relative_luminance(const Daylight& outside) const;

private:
    std::vector<std::size_t> first_;  // patch of each ring, and the end
};

}  // namespace rushlight
