// What bricks, boards, tiles and grain do to a finish: its reflectance, lighter here and darker there, with the mean
// that the finish gives. A patterned part has a few surfaces, one a tone; the pattern says which of them lies where.
#pragma once

#include "quantity/space.h"
#include "setup/plain/finish.h"

#include <cstdint>
#include <vector>

namespace rushlight {

/// How a pattern lies on what it covers. Courses run level, joints from `origin`; boards and grain run along x before
/// the turn about z, or along y or z.
struct PatternLie {
    Vec3 origin{0, 0, 0};
    float turn = 0;  // radians, anticlockwise seen from above
    int along = 0;   // 0: x, 1: y, 2: z
};

class Pattern {
public:
    /// Shades of the body, darkest first, and one for the joints.
    static constexpr std::uint32_t shades = 16, tones = shades + 1;

    Pattern(PatternKind kind, const PatternLie& lie);
    /// The tone at a point of a surface with that normal (unit, in the place).
    std::uint32_t tone_at(const Vec3& position, const Vec3& normal) const;

private:
    PatternKind kind_;
    PatternLie lie_;
    float cosine_, sine_;
};

/// The finish in each of its tones, by which each tone's share of a large area brings the mean reflectance back to the
/// finish's own in every band; none: it has no pattern, or is no matt body. Contrasts are common practice, no source.
std::vector<Finish> tones_of(const Finish& finish);
/// Share of a large area that the joints take.
float joints_of(PatternKind kind);

}  // namespace rushlight
