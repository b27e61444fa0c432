// A set-up made ready for tracing: surfaces, lights, people, and where everything is.
#pragma once

#include "scene/figure/stand_in.h"
#include "scene/light/lights.h"
#include "scene/rays/ray_scene.h"
#include "setup/plain/setup.h"

#include <memory>
#include <string>
#include <vector>

namespace rushlight {

/// A body that mirrors, whole or in part, by faces that are in no list: too many of them, or bent.
struct Thrower {
    Vec3 centre{0, 0, 0};
    float radius = 0;  // of a ball round it
    float share = 0;   // that it mirrors
};

struct Scene {
    RayScene rays;
    Lights lights;
    /// Where daylight comes in: camera walks aim some of their directions there. Null when nothing does.
    std::shared_ptr<const Openings> openings;
    /// The same, also by night and where there are none.
    std::shared_ptr<const Openings> holes;
    std::vector<Mirror> mirrors;  // flat faces of sharp mirrors and panes, in which lights have images
    AimedRectangles shining;      // flat faces of mirrors and hard silver: what they show is worth a look
    std::vector<Thrower> throwers;
    std::vector<Figure> figures;  // one a mark, in the rig's order
    std::vector<float> gets_in;   // share of each lamp's light: a street lamp's is small
    std::string content;          // fingerprint of the set-up it was built from, lamps as they burn

    /// The mirror that was hit, or -1.
    int mirror_at(const Hit& hit) const;
    /// Fingerprint of all that its light hangs on.
    std::string fingerprint() const;
};

Scene build_scene(const Setup& setup);

/// Lights for the same scene at another hour: the rig's lamps, burning or not, and what `outside` has of sun and sky.
Lights lights_under(const Daylight& outside, const Scene& scene, const Rig& rig, bool lamps_burn);

/// A mesh as one part, with a surface of its finish; the part's number.
std::uint32_t add_part(Scene& scene, const Mesh& mesh, PartKind kind, std::string name, int mark = -1, int light = -1);
std::uint32_t add_part(Scene& scene, const PlacedMesh& mesh, PartKind kind, std::string name, int mark = -1);
/// The drum or cone round a bulb, open at both ends.
Mesh shade_mesh(const Vec3& bulb, const Shade& shade);
/// A lamp's light, and its face as a black part: it sends back nothing of what falls on it.
void add_lamp(Scene& scene, const Lamp& lamp);

}  // namespace rushlight
