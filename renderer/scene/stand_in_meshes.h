// The parts of a figure as triangles in their own millimetres, made once and kept: everybody has the same head, and a
// set-up is built again and again with the same people in it.
#pragma once

#include "scene/mesh.h"
#include "scene/stand_in_body.h"
#include "scene/stand_in_head.h"

#include <memory>

namespace rushlight {

/// In the head's millimetres.
struct HeadMeshes {
    Mesh skin;
    Vec3 centre{0, 0, 12};
    float radius = 0;  // of a ball that holds the head, without the neck and the hair
};
const HeadMeshes& head_meshes();

/// In the body's millimetres.
struct BodyMeshes {
    BodyShape shape;
    float head_over_body = 1;  // the head's millimetre over the body's
    Mesh clothes, collar, hands;
};
std::shared_ptr<const BodyMeshes> body_meshes(const BodyShape& shape, float head_over_body);

/// How the common head's neck fits a body.
NeckFit neck_for(float head_over_body);

/// An eyeball and, bulging from it, what is seen through its cornea, drawn on the cornea itself: for a catchlight it
/// is the cornea's curve that counts.
struct EyeMeshes {
    Mesh white, limbus, iris, pupil;
};
EyeMeshes eye_meshes(const Vec3& centre);

}  // namespace rushlight
