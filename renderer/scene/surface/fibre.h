// How hair sends light on: off the surface of a fibre (R), through it (TT), back from its far wall (TRT), and what is
// left; after Marschner et al., "Light scattering from human hair fibers" (SIGGRAPH 2003), with the lengthwise lobe
// that conserves energy of d'Eon et al., "An energy-conserving hair reflectance model" (EGSR 2011), and the crosswise
// lobe and the remaining internal bounces of Chiang et al., "A practical and controllable hair and fur model" (EG
// 2016).
#pragma once

#include "quantity/space.h"
#include "quantity/spectrum.h"

#include <array>
#include <vector>

namespace rushlight {

/// A fibre too thin to be seen: everything is a mean over its width.
class Fibre {
public:
    /// `absorption` per fibre radius, in each band.
    explicit Fibre(const Spectrum& absorption);

    /// Radiance sent to the eye for each unit of radiance and steradian that comes from the light's side. Unit
    /// directions away from the fibre; `along` to the tip. Its integral over the light's directions is share(),
    /// whatever the eye's direction. To and fro differ a little, for what is lost inside hangs on the eye's slant.
    Spectrum sent(const Vec3& along, const Vec3& to_eye, const Vec3& to_light) const;
    /// Pdf per steradian with which draw() goes from one direction to the other.
    float pdf(const Vec3& along, const Vec3& from, const Vec3& to) const;
    Vec3 draw(const Vec3& along, const Vec3& from, float u0, float u1, float u2) const;

    /// Share that is sent on in all, at this sine of the angle to the cross-section.
    Spectrum share(float sine) const;
    /// For ending walks: of the best band, seen squarely.
    float largest_share() const { return largest_share_; }

    static constexpr float index = 1.55F;  // keratin: hair-optics literature, from memory

private:
    static constexpr int shaped = 3;  // ways with a crosswise shape: R, TT, TRT; the rest goes all round
    static constexpr int slants = 17, turns = 65;

    /// For one slant and one turn round the fibre: crosswise pdf, per radian, times share.
    struct Crosswise {
        std::array<Spectrum, shaped> sent;
        std::array<float, shaped> drawn{};
    };
    /// For one slant: shares of each way in all.
    struct Slant {
        std::array<Spectrum, shaped + 1> sent;
        std::array<float, shaped + 1> drawn{};  // these sum to one
    };
    /// Between two slants of the table.
    struct Between {
        int first;
        float second_share;
    };
    static Between slant_between(float cosine);
    const Crosswise& crosswise(int slant, int turn) const {
        return crosswise_[static_cast<std::size_t>(slant * turns + turn)];
    }
    void fill_slant(int slant, const Spectrum& absorption, float drawn_by);

    std::vector<Crosswise> crosswise_;
    std::array<Slant, slants> slant_;
    float largest_share_ = 1;
};

/// Absorption per fibre radius that makes a thick tress, lit evenly, send back the share `reflectance` in each band.
/// What is blacker than bare surface reflection gets the darkest pigment.
Spectrum absorption_for(const Spectrum& reflectance);

}  // namespace rushlight
