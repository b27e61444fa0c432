// Where the outline of a head runs in the picture, and what lies directly behind it there.
#pragma once

#include "scene/rays/camera_view.h"
#include "scene/scene.h"

#include <vector>

namespace rushlight {

/// One place on the outline: a ray that meets the head just inside it, and one that passes just outside.
struct OutlinePlace {
    Ray on, behind;
    PartKind kind = PartKind::hair;  // what the outline is made of here
};

/// Places around the upper half of a person's head, from ear over crown to ear, as the camera sees them;
/// empty where the head is hidden or out of the picture.
std::vector<OutlinePlace> head_outline(const Scene& scene, const CameraView& view, int mark, int places = 12);

}  // namespace rushlight
