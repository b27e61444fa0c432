// Lights that glasses mirror into the lens of the camera, and whether they glare.
#pragma once

#include "paths/work/effort.h"
#include "results/sheet/sheet.h"
#include "scene/rays/camera_view.h"
#include "scene/scene.h"
#include "setup/plain/rig.h"

namespace rushlight {

/// For someone who wears glasses with glass in them: each light that they mirror to the camera within two stops under
/// the skin or over it; `skin` is the luminance of the key cheek, cd/m2. Returns seconds taken.
double find_glare(const Scene& scene, const CameraView& view, const StandIn& who, int mark, double skin,
                  const Effort& effort, PersonReadings& person);

/// As bright as the skin, it draws the eye (common practice, no source).
inline bool glares(const GlassesGlare& g) {
    return g.over_skin >= 0;
}
/// "sky by middle window", or the lamp alone where it is mirrored itself.
std::string named_light(const std::string& source, const std::string& by);
/// One sentence of the worst that glares; "" where nothing does.
std::string glare_remark(const PersonReadings& person);

}  // namespace rushlight
