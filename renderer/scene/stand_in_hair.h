// Hair grown on the common head, in its millimetres (see stand_in_head.h): fewer and thicker fibres than grow on a
// head, so that as much light is stopped by them as by the many.
#pragma once

#include "scene/fibres.h"
#include "setup/rig.h"

namespace rushlight {

Fibres grow_hair(HairCut cut, double wave);
/// The same, made once for each cut and wave, and kept.
const Fibres& grown_hair(HairCut cut, double wave);
/// Eyebrows and lashes.
const Fibres& brows_and_lashes();

/// How far a point of the scalp lies behind the hairline, mm: brow, temples, sideburns, round the ears, nape.
float behind_hairline(const Vec3& p);

}  // namespace rushlight
