// What a spot meter beside the lens is pointed at, for each person.
#pragma once

#include "paths/walk/camera_paths.h"
#include "results/readings/readings.h"
#include "scene/rays/camera_view.h"
#include "scene/scene.h"
#include "setup/plain/setup.h"

#include <optional>
#include <string>
#include <vector>

namespace rushlight {

struct PlacedSpot {
    std::string name;
    MeterPoint point;
};

struct PersonSpots {
    bool in_picture = false;       // the face is
    std::vector<PlacedSpot> seen;  // "near cheek", "far cheek", "front", "shirt", "wardrobe", "background, left" ...
    std::vector<std::string> not_seen;  // names of what something hides, or what lies out of the picture
};

/// What a person beside this camera sees.
CameraView beside_the_lens(const Camera& camera);

/// What the places along an outline are called that a separation of this name is of, and those just beside them.
const char* edge_name(const std::string& separation);
inline constexpr const char* behind_edge = "behind that edge";

/// Half a degree from the middle, or the patch of skin itself where that is smaller.
PersonSpots place_spots(const Setup& setup, const Scene& scene, const CameraView& view, int mark);

/// Those of everybody in the picture of the set-up's camera, as meters: "A near cheek".
std::vector<NamedMeter> spots_of(const Setup& setup, const Scene& scene);

}  // namespace rushlight
