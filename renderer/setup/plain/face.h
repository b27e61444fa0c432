// How tall people divide up, from a stature to a head, eyes and a seat (docs/people.md has the sources), and where that
// puts the face.
#pragma once

#include "setup/plain/rig.h"

namespace rushlight {

/// Unit vector that the nose points along.
Vec3 facing_of(const Mark& mark);

inline constexpr double shoe_sole = 0.025;     // m
inline constexpr double slump = 0.03;          // m: what a person at ease loses of the sitting height
inline constexpr float head_height = 230;      // mm, chin to crown
inline constexpr float crown_over_eyes = 112;  // mm, of that head

/// Metres.
struct Build {
    double stature = 1.7;   // without shoes
    double head_scale = 1;  // of a head 230 mm high
    double eyes_under_crown = 0.112;
    double standing_eyes = 1.6;  // above the floor, with shoes
    double eyes = 1.6;           // the same as posed
    double seat = 0.45;
};
Build build_of(const StandIn& person);

/// Height of the eyes over the floor, m.
double eye_height(const StandIn& person);
/// Between the eyes, 0.09 m before the mark's upright.
Vec3 face_of(const Mark& mark);

}  // namespace rushlight
