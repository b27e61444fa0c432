// Glasses, in the head's millimetres (see head.h): two lenses, each a cap of a ball, in rims, and
// the temples that hold them. A lens mirrors as its ball does: what glares in it depends on how it is tilted.
#pragma once

#include "scene/rays/mesh.h"
#include "setup/plain/rig.h"

#include <array>
#include <memory>

namespace rushlight {

struct OwnHead;

struct SpectacleLens {
    Vec3 ball{0, 0, 0};  // its middle
    float radius = 120;
    // Where the middle of the lens looks, and the ways to the person's left and up along it; unit.
    Vec3 out{1, 0, 0}, left{0, 1, 0}, up{0, 0, 1};
    float half_width = 24, half_height = 19;

    /// True if the point of the ball that looks along `normal` (unit) belongs to the lens.
    bool holds(const Vec3& normal) const;
    /// The place `x`, `y` of the lens, counted in its half width and height from the middle, and how it looks.
    Vec3 normal(float x, float y) const;
    Vec3 at(const Vec3& normal) const { return ball + normal * radius; }
};

struct GlassesMeshes {
    Mesh rims, temples;
    std::array<SpectacleLens, 2> lenses;  // the person's own left and right
    std::array<Mesh, 2> glass;            // nothing in it where the rims are empty
};
/// How common glasses are bent to sit on somebody's nose and ears; whole half millimetres, so that they can be kept.
struct GlassesFit {
    float forward = 0;      // of the lenses, more than on the common head
    float temples = 76.5F;  // half of what is between them at the ears
    bool operator==(const GlassesFit&) const = default;
};
GlassesFit glasses_fit(const OwnHead& head);
GlassesMeshes glasses_of(Rims rims, Lenses lenses, const GlassesFit& fit);
/// The same, made once and kept.
std::shared_ptr<const GlassesMeshes> kept_glasses(Rims rims, Lenses lenses, const GlassesFit& fit);

/// The material of a lens, as a pane.
Finish glass_of_lens(Lenses lenses);

}  // namespace rushlight
