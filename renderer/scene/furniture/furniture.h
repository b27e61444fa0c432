// Furniture by shape and size: a few boards, cushions and posts in the box that the file gives.
#pragma once

#include "scene/rays/mesh.h"
#include "setup/plain/place.h"

#include <vector>

namespace rushlight {

/// All that stands in the box, in the place: one mesh a finish. Nothing leaves the box; sizes that the box does not
/// settle (a seat 0.46 m high, boards 25 mm thick) are common practice, no source.
std::vector<Mesh> furniture_meshes(const Box& box);
/// The box itself.
Mesh box_mesh(const Box& box);

}  // namespace rushlight
