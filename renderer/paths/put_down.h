// Where a meter is that was put down on something.
#pragma once

#include "paths/walk/camera_paths.h"
#include "scene/scene.h"

namespace rushlight {

/// A meter that lies in a surface, as one that was typed at the height of a table top does, is put on it: the middle of
/// its disc or dome stands some millimetres off what it lies on. Any other stays where it is.
MeterPoint put_down(const Scene& scene, MeterPoint meter);

}  // namespace rushlight
