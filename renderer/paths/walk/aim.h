// Where camera walks go next: mostly as the surface scatters, sometimes towards an opening, sometimes towards a mirror
// or a board of hard silver. What stands outside, lit by sun and sky, is a light that no lamp list knows; a window is
// where to look for it. What shows in a mirror is another.
#pragma once

#include "paths/walk/vertex.h"
#include "scene/scene.h"

namespace rushlight {

class Aim {
public:
    explicit Aim(const Scene& scene)
        : openings_(scene.openings.get()), shining_(scene.shining.rectangles.empty() ? nullptr : &scene.shining) {}

    /// Pdf per steradian with which a camera walk that came from `from` leaves `v` along `to`.
    float pdf(const Vertex& v, const Vec3& from, const Vec3& to) const {
        return mixed(shares(v, from), v.position, v.pdf_to_light(from, to), to);
    }
    std::optional<Surface::Bounce> bounce(const Vertex& v, float u0, float u1, float u2) const;

    /// How many of a meter's walks are aimed; their pdf, times that share; and one of them, by `which` in 0..share:
    /// nothing when the rectangle chosen is seen edge-on.
    float share_of_a_meter() const { return 1.0F - at_meters().own(); }
    float aimed_pdf_of_a_meter(const Vec3& at, const Vec3& to) const { return aimed_pdf(at_meters(), at, to); }
    std::optional<AimedRectangles::Drawn> drawn_from_a_meter(const Vec3& at, float u0, float u1, float which) const {
        return drawn(at_meters(), at, u0, u1, which);
    }

private:
    // At least half stays with the surface: else its own bright directions come too seldom, as fireflies.
    struct Shares {
        float openings = 0, shining = 0;
        float own() const { return 1.0F - openings - shining; }
    };
    static constexpr Shares at_surfaces{0.3F, 0.2F};
    Shares at_meters() const { return {openings_ != nullptr ? 0.25F : 0.0F, shining_ != nullptr ? 0.2F : 0.0F}; }
    /// How often to aim at `v`: not where nothing lies on a side that the surface scatters to.
    Shares shares(const Vertex& v, const Vec3& from) const;
    float aimed_pdf(const Shares& aimed, const Vec3& at, const Vec3& to) const;
    float mixed(const Shares& aimed, const Vec3& at, float own, const Vec3& to) const {
        return aimed.own() * own + aimed_pdf(aimed, at, to);
    }
    std::optional<AimedRectangles::Drawn> drawn(const Shares& aimed, const Vec3& at, float u0, float u1,
                                                float which) const {
        return which < aimed.openings ? openings_->drawn(at, u0, u1) : shining_->drawn(at, u0, u1);
    }
    const Openings* openings_;
    const AimedRectangles* shining_;
};

}  // namespace rushlight
