// How a surface sends light on: what share of light from one direction leaves into another, and a good next
// direction for a path. All directions are unit vectors that point away from the surface.
#pragma once

#include "quantity/space.h"
#include "quantity/spectrum.h"
#include "scene/surface/fibre.h"
#include "scene/surface/forward_lobe.h"
#include "scene/surface/polarizer.h"
#include "setup/plain/finish.h"

#include <memory>
#include <optional>

namespace rushlight {

/// A Finish made ready for the tracer.
struct Surface {
    Spectrum matt;                        // reflectance / pi of the matt body
    Spectrum through;                     // transmittance / pi of a scattering cloth
    Spectrum straight;                    // passes unbent
    Spectrum metal;                       // reflectance of bare metal at normal incidence
    float coat = 0;                       // mirror share of the clear coat at normal incidence
    float coat_index = 1, coat_mean = 0;  // its refractive index; its share of even light from all sides
    float alpha = 0.3F;                   // GGX width of coat, metal or pane; 0: none, see sharp()
    float matt_share = 0, through_share = 0, metal_share = 0, straight_share = 0;  // largest band of each
    bool pane = false;
    float pane_index = 1.52F, pane_transmittance = 1;
    std::shared_ptr<const ForwardLobe> forward;  // of what is scattered through; null: Lambert
    /// Set if this is hair, which sends light on in a way of its own: then nothing else here counts.
    std::shared_ptr<const Fibre> fibre = nullptr;

    Surface() = default;
    explicit Surface(const Finish& finish);
    /// For a body shaded as round though made of flat faces: its images keep a blur, which hides the faces.
    static Surface of_rounded(const Finish& finish);
    explicit Surface(const Fibre& hair);

    bool veil() const { return pane || straight_share > 0; }  // some light passes unbent
    bool scatters_through() const { return through_share > 0; }
    bool mirror_like() const { return coat > 0 || metal_share > 0 || pane; }
    /// What is mirrored goes in one direction alone. No pdf can hold it: scattered(), pdf() and bounce() leave it out,
    /// and walks are turned by it on their way, as they pass through veils.
    bool sharp() const { return alpha == 0 && mirror_like(); }
    /// Share, per band, that a sharp surface mirrors at this angle.
    Spectrum mirrored_at(float cosine) const;

    /// Share, per band, that passes unbent at this angle (`cosine` with the normal).
    Spectrum straight_at(float cosine) const;
    /// What a walk does that meets this net, cloth, pane or sharp mirror: it goes straight on, or is mirrored, or else
    /// is scattered there. Both are the same for walks to and fro.
    struct Chances {
        float pass = 0, mirror = 0;
    };
    Chances chances(float cosine) const;
    /// Share that passes or returns in all, largest band: an upper bound for ending paths.
    float largest_share() const;

    /// Bidirectional scattering function (1/sr), symmetric in `a` and `b`; the straight share is not in it.
    Spectrum scattered(const Vec3& normal, const Vec3& a, const Vec3& b) const;
    /// The same from `b` towards a lens with a polarizing filter, relative to a plain filter of the same loss: gloss by
    /// Fresnel, and the body's light as it leaves through the coat. Bare metal polarises little: it keeps all.
    Spectrum seen(const Vec3& normal, const Vec3& toward_lens, const Vec3& b, const Analyser& analyser) const;
    /// Pdf (per steradian) with which bounce() picks `to`, coming from `from`.
    float pdf(const Vec3& normal, const Vec3& from, const Vec3& to) const;

    struct Bounce {
        Vec3 to{0, 0, 1};
        Spectrum weight;  // scattered() * |cosine| / pdf
        float pdf = 0;
    };
    /// A next direction; `u` are three numbers in 0..1. Nothing when the light is lost.
    std::optional<Bounce> bounce(const Vec3& normal, const Vec3& from, float u0, float u1, float u2) const;

private:
    struct Parts {
        Spectrum body, gloss;
    };
    Parts parts(const Vec3& normal, const Vec3& a, const Vec3& b) const;
    struct Lobes {
        float matt, through, mirror;
    };
    Lobes lobes(float cosine) const;
    /// Pdf of a draw through the cloth, by the lobe or by the cosine.
    float through_density(float cos_from, float cos_to, float cos_bend) const;
    /// A direction through the cloth, behind `facing`.
    Vec3 drawn_through(const Vec3& facing, const Vec3& from, float u0, float u1, float which) const;
    /// The share that coat or metal leaves to the body beneath at this angle. A coat takes its share of all incoming
    /// light. The shares of metal and body are given side by side, so there only the rise towards grazing is taken off.
    float beneath(float cosine) const;
    /// Fresnel's share of the clear coat.
    float coat_share(float cosine) const;
};

/// Fresnel reflectance, unpolarised, from air into a dielectric of `index` at `cosine` of incidence.
float fresnel_dielectric(float cosine, float index);
/// Reflected and transmitted share of a thin clear pane, all internal bounces, per polarisation and then
/// averaged: T = (1-R)^2 t / (1 - R^2 t^2), t = transmittance^(1 / cos inside).
struct PaneShares {
    float reflected, transmitted;
};
PaneShares pane_shares(float cosine, float index, float transmittance);

}  // namespace rushlight
