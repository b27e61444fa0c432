// The parts of a figure as triangles in their own millimetres, made once, with normals, and kept: everybody has the
// same head, and a set-up is built again and again with the same people in it, here or there.
#pragma once

#include "scene/rays/mesh.h"
#include "scene/figure/body.h"
#include "scene/figure/head.h"
#include "scene/figure/jacket.h"

#include <array>
#include <memory>

namespace rushlight {

/// In the head's millimetres.
struct HeadMeshes {
    Mesh skin;
    float radius = 0;  // of a ball round head_centre that holds the head, without the neck and the hair
};
const HeadMeshes& head_meshes();
/// The skin of a head that is turned on a neck.
std::shared_ptr<const Mesh> posed_skin(const HeadPose& pose, const NeckFit& neck);

/// In the body's millimetres.
struct BodyMeshes {
    Mesh clothes, collar, hands;
};
/// `head_over_body`: the head's millimetre over the body's.
std::shared_ptr<const BodyMeshes> body_meshes(const BodyShape& shape, float head_over_body);
/// Its clothes as a jacket over a shirt.
std::shared_ptr<const OpenJacket> open_jacket(const std::shared_ptr<const BodyMeshes>& body);

/// How the common head's neck fits a body.
NeckFit neck_for(float head_over_body);

/// An eyeball and, bulging from it, what is seen through its cornea, drawn on the cornea itself: for a catchlight it
/// is the cornea's curve that counts.
struct EyeMeshes {
    Mesh white, limbus, iris, pupil;
};
EyeMeshes eye_meshes(const Vec3& centre);
/// The person's own left and right.
std::shared_ptr<const std::array<EyeMeshes, 2>> both_eyes();

}  // namespace rushlight
