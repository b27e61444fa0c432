// What walks from meters and walks from lamps have in common: the way to the next surface, and when to end.
#pragma once

#include "paths/sampler.h"
#include "paths/vertex.h"
#include "scene/scene.h"

namespace rushlight {

/// Follows the ray to the next surface. Nets, cloths and panes let the walk pass unbent by chance, weighed so
/// that the mean is right. Nothing is met when the ray leaves the place.
std::optional<Hit> next_meeting(const RayScene& rays, Ray ray, Spectrum& carried, Sampler& sampler);

/// Chance that a walk goes on after `meetings` meetings, having kept `kept` at the last one. The first few are
/// never gambled away but on black cloth: the rare bright ways that readings need start there.
float chance_to_go_on(int meetings, const Spectrum& kept);

}  // namespace rushlight
