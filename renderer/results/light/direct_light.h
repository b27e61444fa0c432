// Light that comes straight from a source to a point, through nets and panes but off nothing.
#pragma once

#include "paths/walk/camera_paths.h"
#include "scene/scene.h"

#include <functional>

namespace rushlight {

struct DirectLight {
    double lux = 0;    // on the meter
    double width = 0;  // of the source over its distance, as an even disc of the same spread; 0 when there is no light
};

/// From an even set of directions to the source. `each`, if given, is told every one that gets through.
DirectLight direct_light(const Scene& scene, std::size_t light, const MeterPoint& meter,
                         const std::function<void(const Vec3& toward)>& each = nullptr);

}  // namespace rushlight
