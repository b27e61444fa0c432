// Where a spot meter is held on the view through each opening.
#pragma once

#include "paths/walk/camera_paths.h"
#include "scene/rays/camera_view.h"
#include "scene/scene.h"
#include "setup/plain/setup.h"

#include <string>
#include <vector>

namespace rushlight {

struct ViewSpots {
    std::string opening;
    std::vector<MeterPoint> spots;
};

/// Spots of one degree on what is seen of every opening that the camera sees, at most nine each.
std::vector<ViewSpots> views_in_frame(const Setup& setup, const Scene& scene, const CameraView& view);
/// The same; where the camera sees none, the openings as
/// seen from the first mark's face, or else from the middle of the room.
std::vector<ViewSpots> view_spots(const Setup& setup, const Scene& scene);

}  // namespace rushlight
