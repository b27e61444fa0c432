// From a cage of four-sided faces to a smooth skin: Catmull and Clark, Computer-Aided Design 10(6), 1978.
#pragma once

#include "scene/person/body_data.h"
#include "scene/rays/mesh.h"

#include <functional>

namespace rushlight {

/// Faces of four corners; a triangle repeats its last.
struct Cage {
    Points points;
    std::vector<Quad> faces;
    std::vector<std::uint8_t> part = {};  // one a face, or none
};

/// Every face in four (a triangle in three), corners moved to the smooth surface's next approximation. Rims stay rims:
/// they become a smooth curve of their own.
Cage subdivided(const Cage& cage);

/// The same as triangles, where only the faces that `fine` names are divided; their neighbours take up the corners in
/// between, so that no gap opens.
Mesh divided_mesh(const Cage& cage, const std::function<bool(std::size_t)>& fine);

/// Only the faces that `keep` names, with the corners that they use.
Cage part_of(const Cage& cage, const std::function<bool(std::size_t)>& keep);

}  // namespace rushlight
