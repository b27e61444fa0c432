// Hair grown on somebody's own head, in its millimetres (see head.h): fewer and thicker fibres than grow on a
// head, so that as much light is stopped by them as by the many.
#pragma once

#include "scene/person/made_person.h"
#include "scene/rays/fibres.h"

#include <memory>

namespace rushlight {

Fibres grow_hair(HairCut cut, double wave, const OwnHead& head);
/// Hair that has been grown, and how far it reaches from `head_centre` without what hangs lower than the jaw, mm.
struct GrownHair {
    Fibres fibres;
    float reach = 0;
};
/// Grown once for each head, cut and wave (to a tenth), and kept as long as the head.
std::shared_ptr<const GrownHair> grown_hair(HairCut cut, double wave, const std::shared_ptr<const OwnHead>& head);
/// Eyebrows and lashes.
std::shared_ptr<const Fibres> brows_and_lashes(const std::shared_ptr<const OwnHead>& head);

/// How far a point of the scalp lies behind the hairline, mm: brow, temples, sideburns, round the ears, nape.
class Hairline {
public:
    explicit Hairline(const OwnHead& head);
    float behind(const Vec3& p) const;
    /// The furthest back that the head reaches.
    float back() const { return back_; }

private:
    float front_ = 1, width_ = 1, back_ = -60;
};

}  // namespace rushlight
