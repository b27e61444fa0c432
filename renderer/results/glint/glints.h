// Reflections of a small smooth cap of a ball in the lens of the camera: a cornea, a lens of glasses.
#pragma once

#include "paths/work/effort.h"
#include "scene/rays/camera_view.h"
#include "scene/scene.h"

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace rushlight {

struct MirrorBall {
    Vec3 centre{0, 0, 0};
    float radius = 0.01F;
    Vec3 out{1, 0, 0};                              // where the middle of the cap looks; unit
    float reach = 1;                                // radians from there to its farthest place
    std::function<bool(const Vec3& normal)> holds;  // true if the cap has a place that looks along this
    std::function<float(float cosine)> mirrors;     // Fresnel's share
};

/// One place of it that the camera sees, and the direction that it mirrors.
struct Glint {
    Vec3 normal{0, 0, 1};
    Vec3 toward{0, 0, 1};
    Vec3 at{0, 0, 0};
    float mirrored = 0;
};

class RoundMirror {
public:
    RoundMirror(const Scene& scene, const CameraView& view, MirrorBall ball)
        : scene_(scene), view_(view), ball_(std::move(ball)) {}

    /// The glint where the ball looks along `normal`, if the camera sees that place at all.
    std::optional<Glint> at(const Vec3& normal) const;
    /// Where it mirrors what lies `away` along `toward` from the middle of the cap.
    std::optional<Glint> mirroring(const Vec3& toward, float away) const;
    /// Even over the cap, in rings.
    std::vector<Glint> all() const;
    /// Tangent of half the angle between the directions that neighbours of all() mirror.
    float between() const { return ball_.reach / rings; }
    Vec3 middle() const { return ball_.centre + ball_.out * ball_.radius; }

private:
    static constexpr int rings = 6;
    const Scene& scene_;
    const CameraView& view_;
    MirrorBall ball_;
};

/// Something bright in the mirror.
struct GlintSeen {
    Glint glint;
    std::string source, by;  // whose light, and what is mirrored: a lamp, a window, a board
    double luminance = 0;    // cd/m2 that reach the camera, the mirror's share counted
};
struct GlintsSeen {
    std::vector<GlintSeen> seen;
    std::vector<double>
        luminance;  // of all the mirror's glints: each to a fifth of itself and of what is worth telling
    double seconds = 0;
};
/// Traces what `glints` mirror, one of each bright thing. Small bright things would slip between, so every lamp and the
/// sun are asked directly, at `side` times `side` places of each. Nothing darker than `worth_telling` (cd/m2, in the
/// mirror) matters.
GlintsSeen find_glints(const Scene& scene, const RoundMirror& mirror, const std::vector<Glint>& glints, int side,
                       double worth_telling, const Effort& effort);

/// True if they probably mirror one and the same window or lamp.
bool mirror_alike(const RoundMirror& mirror, const Glint& a, const Glint& b);

}  // namespace rushlight
