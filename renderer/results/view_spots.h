// Where a spot meter is held on the view through each opening.
#pragma once

#include "paths/camera_paths.h"
#include "scene/scene.h"
#include "setup/setup.h"

#include <string>
#include <vector>

namespace rushlight {

struct ViewSpots {
    std::string opening;
    bool in_frame = false;
    std::vector<MeterPoint> spots;
};

/// Spots of one degree on what the camera sees of every opening, at most nine each. Where it sees none, the openings as
/// seen from the first mark's face, or else from the middle of the room.
std::vector<ViewSpots> view_spots(const Setup& setup, const Scene& scene);

}  // namespace rushlight
