// Scenes of the rows, and the ways to read them.
#pragma once

#include "outside_by_hand.h"
#include "paths/small_scenes.h"
#include "validation/cases.h"

#include <memory>
#include <optional>

namespace rushlight::validation {

inline MeterPoint flat(const Vec3& at, const Vec3& facing) {
    return {MeterKind::flat, at, facing.normalized()};
}

inline Rectangle rectangle(const Vec3& centre, const Vec3& normal, double width, double height) {
    return facing_rectangle(centre, normal, 0, width, height);
}

inline Opening hole(Wall wall, double from, double to, double sill, double head, bool glazed = false) {
    Opening o;
    o.wall = wall;
    o.from = from;
    o.to = to;
    o.sill = sill;
    o.head = head;
    o.glazed = glazed;
    return o;
}

/// Walls of no thickness, so that an opening is the plane figure that formulas know. Glazed holes get a pane of
/// index 1.52 and internal transmittance .95.
std::shared_ptr<Openings> add_room(Scene& s, const Vec3& size, const std::vector<Opening>& holes,
                                   const Finish& finish = small::matt(0));

/// A black sheet that leaves a round hole of radius r in a square of side 2.04 r; the hole's polygon has its area.
Mesh round_mask(const Vec3& centre, double r);
/// A disc facing up, of the true area.
Mesh disc(const Vec3& centre, double r);

/// A run that is done when the first row asks for it, and kept for the others.
template <class Make>
auto once(Make make) {
    using Result = std::invoke_result_t<Make>;
    auto kept = std::make_shared<std::optional<Result>>();
    return [kept, make]() -> const Result& {
        if (!*kept) kept->emplace(make());
        return **kept;
    };
}

using Run = std::function<const MeterResults&()>;
/// The meters of one scene, measured as `rushlight read` does, the worst of them to `error`.
Run run_of(std::function<Scene()> scene, std::vector<MeterPoint> meters, double error);
/// One meter of a run, times `factor`.
std::function<Measured()> reading(const Run& run, std::size_t meter, double factor = 1);

/// Area mean of the illuminance on the side of `face` that its normal leaves by: meters at chance places of its cells.
Measured mean_over(const Scene& s, const Rectangle& face, int thousands);

inline std::function<Measured()> sure(std::function<double()> value) {
    return [value = std::move(value)] { return Measured{value(), 0}; };
}

}  // namespace rushlight::validation
