// How tall people divide up: from a stature to a head, eyes and a seat (docs/people.md has the sources).
#pragma once

#include "setup/plain/rig.h"

namespace rushlight {

/// Metres.
struct Build {
    double stature = 1.7;   // without shoes
    double head_scale = 1;  // of a head 230 mm high
    double eyes_under_crown = 0.112;
    double eyes = 1.6;  // above the floor, as posed
    double seat = 0.45;
};

inline constexpr double shoe_sole = 0.025;
inline constexpr double slump = 0.03;  // what a person at ease loses of the sitting height

Build build_of(const StandIn& person);

}  // namespace rushlight
