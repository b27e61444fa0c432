// Where a key, a hair light or an eye light would stand for a person in a set-up: by where gaffers put them, out of the
// picture and clear of everything.
#pragma once

#include "scene/scene.h"
#include "setup/plain/setup.h"

#include <optional>

namespace rushlight {

enum class LampJob { key, hair, eye };
const char* word_of(LampJob job);  // "key", "hair light", "eye light"

struct LampPlace {
    Vec3 at{0, 0, 2}, aimed_at{0, 0, 1.5};
    double distance = 0;   // m, from what it is aimed at
    double up = 0;         // degrees over it
    bool on_arm = false;   // a stand right under it would be in the picture or in the furniture
    double off_lens = 90;  // degrees between its aim and the way to the lens; within its field: flag it off the lens
    int tried = 0, possible = 0;
};

/// The possible place nearest to the usual one. Key: 45 degrees beside the nose and 35 up, on the side that `lit` looks
/// to (lighting textbooks: 30 to 60 off, above the eyes); hair: from behind as the lens sees it, 45 up, no more than
/// 60, and behind the face; eye: close beside the lens and 15 up. All from 1 to 3 m. Common practice, no source, but
/// for the angles. Nothing where no place is possible.
std::optional<LampPlace> place_for(const Setup& setup, const Scene& scene, LampJob job, std::size_t mark,
                                   const Vec3& lit);

}  // namespace rushlight
