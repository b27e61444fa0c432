// Shot sizes as words, and the two sides of a conversation: where the camera stands for them.
#pragma once

#include "setup/plain/rig.h"

#include <string>
#include <string_view>
#include <vector>

namespace rushlight {

/// A size by the height of the picture where the person is. Common practice, no source: middles of usual ranges.
struct ShotSize {
    std::string_view name, also;  // the trade's word, and what it shows
    double height;                // m
};
const std::vector<ShotSize>& shot_sizes();
const ShotSize* shot_size(std::string_view name);

/// Moves the camera along its own direction from the person until the picture is as high as the shot asks for, and
/// tilts it: eyes on the upper third, but never more than an eighth of the picture over the crown. `toward_lens`
/// points from the face to where the lens shall stand; only its level part counts, the lens stands at `height`.
void place_for_shot(Camera& camera, const Mark& of, const ShotSize& size, const Vec3& toward_lens, double height);

/// The line of action: through the heads of two people who face each other.
struct LineOfAction {
    std::size_t first = 0, second = 0;  // of the rig's marks
    Vec3 from{0, 0, 0}, to{0, 0, 0};    // on the floor

    /// Metres that a point stands off it; positive to the left of someone who walks from `from` to `to`.
    double off(const Vec3& p) const;
};
/// The first two marks that face each other within 45 degrees.
std::optional<LineOfAction> line_of_action(const std::vector<Mark>& marks);

/// The camera seen in an upright mirror half way between the two people: same side of the line, same sizes.
void mirror_across(Camera& camera, const Mark& now, const Mark& then);

}  // namespace rushlight
