// The sun by way of flat mirrors: walks from it that start at a mirror, so that its patches are found however small the
// mirror is beside the windows, and where no sun comes in but by a mirror outside.
#pragma once

#include "scene/light/outside_light.h"
#include "scene/rays/flat_faces.h"

#include <span>
#include <vector>

namespace rushlight {

/// A flat face of a sharp mirror or pane.
struct Mirror {
    FlatFace face;
    float share = 0;  // about what it mirrors, seen straight on
    bool pane = false;
};

/// In the frame of a mirror: across, up and over its plane, from its middle.
inline Vec3 in_frame_of(const Rectangle& mirror, const Vec3& d) {
    return {mirror.across.dot(d), mirror.up.dot(d), mirror.normal.dot(d)};
}

/// Where a light is in the frame of a mirror, for its images: a ball round a lamp, or the sun's direction and half its
/// width in radians.
struct Whereabouts {
    Whereabouts(const Rectangle& mirror, const Vec3& centre, float radius, bool far);
    Vec3 centre{0, 0, 0};
    float radius = 0;
    bool far = false;
    float half_width = 0, half_height = 0;  // of the mirror
};

/// Whether an image of the light may show in the mirror to whoever stands at `at`, in the frame of the mirror: never
/// false where one shows.
bool may_show(const Whereabouts& light, const Vec3& at);

class MirroredSun {
public:
    MirroredSun() = default;
    /// Panes are left out: most of them send the sun back to where nobody is.
    MirroredSun(const SunLight& sun, std::span<const Mirror> mirrors);

    double flux() const { return flux_; }
    /// Of the walks from the sun, those that start at mirrors.
    float share() const { return share_; }
    /// A ray from the sun to a point of a mirror, whose number is set; its origin is that point.
    EmittedRay emitted(const std::array<float, 5>& u, int& mirror) const;
    /// Pdf per etendue of such rays at this mirror.
    float emission_pdf(int mirror, const Vec3& outward) const;

private:
    struct Lit {
        int mirror;
        Rectangle rectangle;
        float chance;
    };
    std::vector<Lit> lit_;
    const Lit* find(int mirror) const;
    double flux_ = 0;
    float share_ = 0, disc_pdf_ = 0;
    Vec3 toward_{0, 0, 1};
    double height_ = 0;  // 1 - cosine of half the disc
    Spectrum radiance_;
};

}  // namespace rushlight
