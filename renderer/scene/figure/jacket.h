// A jacket worn open over a shirt: the clothes of a figure cut along a V from the neck to the breastbone.
#pragma once

#include "scene/rays/mesh.h"

namespace rushlight {

/// In the body's millimetres. All have normals but the edge, whose faces are flat.
struct OpenJacket {
    Mesh jacket, shirt, edge;
};
/// `clothes` has normals.
OpenJacket cut_open(const Mesh& clothes);

/// True where a place on the chest is shirt.
bool within_the_v(const Vec3& p);

}  // namespace rushlight
