// How a thin cloth scatters what it does not pass straight: forwards, in a lobe about the way the light came, narrower
// than Lambert. Directions are given as cosines: with the cloth's normal on either side, and with each other.
#pragma once

#include <array>

namespace rushlight {

/// A cosine-power lobe about the straight way, f = (m + 2) / (2 pi) cos^m(bend), completed by what of it would fall
/// back behind the cloth, so that all of the light comes through at every angle and both ways alike (the completion is
/// Kulla and Conty's for rough surfaces, 2017). m = 0 is Lambert. `spread` is the full width in degrees at half of the
/// candela that an evenly lit square-on cloth gives: cos^(m + 1)(spread / 2) = 1/2.
class ForwardLobe {
public:
    explicit ForwardLobe(double spread);

    /// Scattering function, 1/sr, of a lossless cloth; `cos_bend` is the cosine between the ways before and after.
    float scattered(float cos_in, float cos_out, float cos_bend) const;
    /// Share of directions that are drawn from the lobe itself; the rest by the cosine.
    float share(float cos_in) const { return kept(cos_in); }
    /// Pdf per steradian of the lobe's own draw, and the cosine of a bend drawn from it with `u` in 0..1.
    float lobe_density(float cos_bend) const;
    float drawn_bend(float u) const;

    static constexpr double as_good_as_lambert = 119;  // degrees

private:
    static constexpr int steps = 64;
    /// Share of the bare lobe that goes on rather than back, for light at this cosine.
    float kept(float cosine) const;
    float power_;
    float lost_on_average_;  // cosine-weighted mean of 1 - kept
    std::array<float, steps + 1> kept_{};
};

}  // namespace rushlight
