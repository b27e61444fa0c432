// Eyeballs, and where they look.
#pragma once

#include "scene/person/made_person.h"
#include "scene/rays/mesh.h"

#include <memory>

namespace rushlight {

/// An eyeball of 12 mm about the origin that looks along x, and, bulging from it, what is seen through its cornea,
/// drawn on the cornea itself: for a catchlight it is the cornea's curve that counts.
struct EyeMeshes {
    Mesh white, limbus, iris, fibres, pupil;  // fibres: the paler threads of the iris
};
std::shared_ptr<const EyeMeshes> eye_meshes();
inline constexpr float eyeball = 12, cornea_radius = 7.8F, cornea_forward = 5.3F;  // mm

/// Unit, in the head's frame: towards `target` as far as eyes turn in a head, straight on without one.
Vec3 look_from(const Vec3& eye, const std::optional<Vec3>& target);

}  // namespace rushlight
