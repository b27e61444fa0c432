// Where a lamp that stands outside can shine in.
#pragma once

#include "setup/plain/place.h"

#include <string>
#include <vector>

namespace rushlight {

/// An opening that a lamp outside throws light at; of a rough model, all faces of one of its materials.
struct Inlet {
    std::string name;
    std::string hung = {};        // what is drawn in it, as half a sentence; "" where nothing is
    std::string blocked_by = {};  // what stands between them; "" where nothing does
    bool gets_in = false;         // part of the beam meets the hole with nothing in between
};

/// Openings that a source at `p`, on their outer side, meets with the light that it throws within `half_angle` degrees
/// of `aim`. It is asked at many points of each hole, not at its middle alone. A hole that walls of a rough model hide
/// from it entirely is not met.
std::vector<Inlet> inlets(const Place& place, const Vec3& p, const Vec3& aim, double half_angle);

}  // namespace rushlight
