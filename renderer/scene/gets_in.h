// How much of the light of a lamp outside gets in: walks start from it as seldom.
#pragma once

#include "scene/scene.h"

namespace rushlight {

/// Share of the light of a lamp outside that falls on something inside, through an opening: of a few of its rays.
float share_that_gets_in(const Scene& scene, std::size_t light);

}  // namespace rushlight
