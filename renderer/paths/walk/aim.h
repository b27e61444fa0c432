// Where camera walks go next: mostly as the surface scatters, sometimes towards an opening. What stands outside,
// lit by sun and sky, is a light that no lamp list knows; a window is where to look for it.
#pragma once

#include "paths/walk/vertex.h"
#include "scene/scene.h"

namespace rushlight {

class Aim {
public:
    explicit Aim(const Scene& scene) : openings_(scene.openings.get()) {}

    /// Pdf per steradian with which a camera walk that came from `from` leaves `v` along `to`.
    float pdf(const Vertex& v, const Vec3& from, const Vec3& to) const;
    std::optional<Surface::Bounce> bounce(const Vertex& v, float u0, float u1, float u2) const;

    /// The same for a meter, whose own pdf is `own`: see CameraWalk::start_at().
    float share_of_a_meter() const { return openings_ != nullptr ? share_at_meters : 0.0F; }
    float toward_openings(const Vec3& at, const Vec3& to) const { return openings_->pdf(at, to); }
    std::optional<Openings::Drawn> an_opening(const Vec3& at, float u0, float u1) const {
        return openings_->drawn(at, u0, u1);
    }

private:
    // At least half stays with the surface: else its own bright directions come too seldom, as fireflies.
    static constexpr float share_at_surfaces = 0.3F, share_at_meters = 0.25F;
    /// How often to aim at `v`: not where no opening lies on a side that the surface scatters to.
    float share(const Vertex& v, const Vec3& from) const;
    const Openings* openings_;
};

}  // namespace rushlight
