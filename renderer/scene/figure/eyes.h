// Eyeballs, and where they look.
#pragma once

#include "scene/person/made_person.h"
#include "scene/rays/mesh.h"

#include <memory>

namespace rushlight {

/// A ball of 1 about the origin that looks along x, but for what the cornea covers; and a cornea of its own size, with
/// what is seen through it drawn on it: for a catchlight it is the cornea's curve that counts.
struct EyeMeshes {
    Mesh white, limbus, iris, fibres, pupil;  // fibres: the paler threads of the iris
};
std::shared_ptr<const EyeMeshes> eye_meshes();
/// mm, of the head: an eye of 24 mm has a cornea of 7.8 that stands out of the ball by 1.1 (ophthalmology texts, from
/// memory); the eyes that the lids here fit are a tenth larger.
inline constexpr float cornea_radius = 1.1F * 7.8F, cornea_stands_out = 1.1F * 1.1F;

/// Unit, in the head's frame: towards `target` as far as eyes turn in a head, straight on without one.
Vec3 look_from(const Vec3& eye, const std::optional<Vec3>& target);

}  // namespace rushlight
