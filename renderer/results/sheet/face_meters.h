// Where a gaffer holds the meters on a face.
#pragma once

#include "paths/walk/camera_paths.h"
#include "results/sheet/sheet.h"
#include "scene/scene.h"
#include "setup/plain/setup.h"

#include <vector>

namespace rushlight {

struct PlacedMeter {
    Reading reading;  // name, mark and kind filled in
    MeterPoint point;
};

/// The two cheeks as the lens tells them apart: near looks more towards it. Without a camera, left and right.
struct FaceSides {
    const MeterPlace* near;
    const MeterPlace* far;
};
FaceSides sides_of(const Figure& figure, const Camera* camera);

/// Four on every face (near cheek, far cheek, front, dome to the lens), then those placed by hand.
inline constexpr std::size_t meters_a_face = 4;
std::vector<PlacedMeter> place_meters(const Setup& setup, const Scene& scene);

}  // namespace rushlight
