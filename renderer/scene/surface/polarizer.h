// A polarizing filter on the lens, followed backwards along the line of sight. The sky's own polarisation counts where
// the sky itself is seen. Light that falls on the last surface is taken as unpolarised; that surface and every pane
// before it are polarizers themselves, by Fresnel's equations for light that swings along the surface (s) and across it
// (p).  The state is the filter's answer as a Stokes row (1, q, u): how much it passes of light that swings one way
// rather than another. Passing a surface multiplies it by the surface's Mueller matrix (any optics text). All shares
// are relative to what a plain filter of the same loss would pass, so a surface that does not polarise keeps 1.
#pragma once

#include "quantity/space.h"

namespace rushlight {

/// Reflected shares of s-polarised and p-polarised light.
struct Fresnel {
    float s = 0, p = 0;
};
/// Partly polarised light: a `degree` of it swings along one direction, the rest in all directions alike.
struct Polarisation {
    float degree = 0;
    Vec3 along{0, 0, 1};
};
/// From air into a dielectric: Rs = ((c - n t) / (c + n t))^2, Rp = ((n c - t) / (n c + t))^2.
Fresnel fresnel_of_each(float cosine, float index);
/// A thin clear pane with all its inner bounces, each way of swinging by itself: see pane_shares().
struct PaneFresnel {
    Fresnel reflected, transmitted;
};
PaneFresnel pane_of_each(float cosine, float index, float transmittance);
/// The index whose reflectance at normal incidence is `coat`: n = (1 + sqrt F) / (1 - sqrt F).
float index_of_coat(float coat);

class Analyser {
public:
    /// Passes light that swings along `passes`, looking along `sight` (unit). An ideal filter.
    Analyser(const Vec3& sight, const Vec3& passes);

    /// The share that the filter passes of unpolarised light, relative to half of both, after a surface split it into
    /// shares `s` and `p`. `along` is the normal of that surface's plane of incidence (the way that s swings).
    float of(const Fresnel& shares, const Vec3& along) const;
    /// The same for light that is polarised before it gets there.
    float of(const Polarisation& light) const { return of({1 + light.degree, 1 - light.degree}, light.along); }
    /// Looks on through a surface that passes `shares`; returns the factor against their mean. From here on factors
    /// count from what is left.
    float look_through(const Fresnel& shares, const Vec3& along);

private:
    struct Turned {
        float cosine, sine;  // of twice the angle between the axis and `along`
    };
    Turned turned(const Vec3& along) const;
    Vec3 x_, y_;  // across the line of sight; x is the way the filter passes
    float q_ = 1, u_ = 0;
};

}  // namespace rushlight
