// Hair grown on the common head, in its millimetres (see head.h): fewer and thicker fibres than grow on a
// head, so that as much light is stopped by them as by the many.
#pragma once

#include "scene/rays/fibres.h"
#include "setup/plain/rig.h"

#include <memory>

namespace rushlight {

Fibres grow_hair(HairCut cut, double wave);
/// Hair that has been grown, and how far it reaches from `head_centre` without what hangs lower than the jaw, mm.
struct GrownHair {
    Fibres fibres;
    float reach = 0;
};
/// Grown once for each cut and wave (to a tenth), and kept.
std::shared_ptr<const GrownHair> grown_hair(HairCut cut, double wave);
/// Eyebrows and lashes.
std::shared_ptr<const Fibres> brows_and_lashes();

/// How far a point of the scalp lies behind the hairline, mm: brow, temples, sideburns, round the ears, nape.
float behind_hairline(const Vec3& p);

}  // namespace rushlight
