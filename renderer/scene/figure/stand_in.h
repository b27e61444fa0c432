// The figure on a mark: somebody's body, posed and dressed, with eyes that look somewhere and hair of fibres; and where
// a meter is held on its face.
#pragma once

#include "scene/figure/glasses.h"
#include "scene/rays/fibres.h"
#include "scene/rays/mesh.h"
#include "scene/surface/fibre.h"
#include "setup/plain/rig.h"

#include <array>
#include <optional>
#include <string>
#include <vector>

namespace rushlight {

/// A place on the face where a meter is held: just off the skin, looking along the skin's normal.
struct MeterPlace {
    std::string name;
    Vec3 at{0, 0, 0};
    Vec3 facing{0, 0, 1};
};

struct Figure {
    // Parts by what they are: a silhouette is read where hair or skin ends.
    std::vector<PlacedMesh> skin, wardrobe, eyes, rims, lens_glass;
    std::optional<std::array<SpectacleLens, 2>> spectacles;  // where there is glass in the rims; metres
    std::vector<PlacedFibres> hair;                          // brows and lashes alone on a bald head
    std::optional<Fibre> hair_fibre;
    MeterPlace left_cheek, right_cheek;  // the person's own left and right; 5 mm off the skin
    MeterPlace front;                    // between brow and nose tip, facing where the nose points
    Vec3 eye_middle{0, 0, 0};            // between the eyes
    // Of the balls whose front is the cornea, the person's own left and right, and where each eye looks.
    std::array<Vec3, 2> cornea_centre{}, gaze{};
    double cornea_radius = 0.0078;  // m
    Vec3 head_centre{0, 0, 0};
    double head_radius = 0.1;  // of a ball that holds the head and the hair, m
    Vec3 nose{1, 0, 0};        // unit, where the face points
};

/// Anthropometry: medians in docs/people.md, scaled to the person's height.
Figure stand_in(const Mark& mark);

}  // namespace rushlight
