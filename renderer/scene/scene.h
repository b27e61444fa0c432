// A set-up made ready for tracing: surfaces, lights, people, and where everything is.
#pragma once

#include "scene/lights.h"
#include "scene/ray_scene.h"
#include "scene/stand_in.h"
#include "setup/setup.h"

#include <memory>
#include <vector>

namespace rushlight {

struct Scene {
    RayScene rays;
    Lights lights;
    /// Where daylight comes in: camera walks aim some of their directions there. Null when nothing does.
    std::shared_ptr<const Openings> openings;
    std::vector<Figure> figures;  // one a mark, in the rig's order
    std::vector<std::string> remarks;
};

Scene build_scene(const Setup& setup);

}  // namespace rushlight
