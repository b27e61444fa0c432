// How tall people divide up: from a stature to a head, eyes and a seat (docs/people.md has the sources). Whatever asks
// where a face is, a lens, a lamp's aim, a meter or the figure itself, asks here.
#pragma once

#include "setup/plain/rig.h"

namespace rushlight {

/// Metres.
struct Stature {
    double whole = 1.7;     // without shoes
    double head_scale = 1;  // of a head 230 mm high
    double eyes_under_crown = 0.112;
    double standing_eyes = 1.6;  // above the floor, with shoes
    double eyes = 1.6;           // the same as posed
    double seat = 0.45;
};

inline constexpr double shoe_sole = 0.025;
inline constexpr double slump = 0.03;           // what a person at ease loses of the sitting height
inline constexpr double crown_over_eyes = 112;  // mm, at a head scale of 1

Stature stature_of(const StandIn& person);

}  // namespace rushlight
