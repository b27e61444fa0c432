// The parts of a plan.
#pragma once

#include "pictures/draw/label_places.h"
#include "pictures/plan/plan.h"

#include <vector>

namespace rushlight::plan_parts {

inline const Colour ink{0.08F, 0.08F, 0.09F}, faint{0.45F, 0.45F, 0.46F}, wall{0.30F, 0.30F, 0.31F},
    pale{0.93F, 0.93F, 0.92F}, white{1, 1, 1};

/// From metres of the place to points of the paper.
struct ToPaper {
    Point origin;          // where x = y = 0 of the place lies
    double per_metre = 1;  // pt
    Point operator()(double x, double y) const { return {origin.x + x * per_metre, origin.y - y * per_metre}; }
    Point operator()(const Vec3& p) const { return (*this)(static_cast<double>(p.x), static_cast<double>(p.y)); }
};

/// Metres of the place that are drawn.
struct Extent {
    double x0 = 0, y0 = 0, x1 = 1, y1 = 1;
};

struct Drawing {
    Paper& paper;
    const Setup& setup;
    const PlanLook& look;
    ToPaper to;
    Extent extent;
    LabelPlaces labels;
};

/// Walls and openings, furniture, models.
void draw_place(Drawing& d);
/// Names of what stands in the place, where there is room for them.
void label_place(Drawing& d);
/// Lamps with their aim, boards and flags to size, people, cameras with what they see.
void draw_rig(Drawing& d);
void label_rig(Drawing& d);

/// What is said of a sign, its name first; `reach`: metres that the sign covers round its place.
struct Named {
    Vec3 at;
    double reach = 0;
    std::vector<std::string> lines;
};
void write_names(Drawing& d, const std::vector<Named>& all);

/// Scale bar, north, the sun, and what the signs are.
void draw_key(Drawing& d, const PaperBox& box, int scale);
double key_height(const PlanLook& look);

/// The facts a crew must know about a thing, line by line; the first is its name.
std::vector<std::string> lines_of(const Setup& setup, const Lamp& lamp, const PlanLook& look);
std::vector<std::string> lines_of(const Setup& setup, const Panel& panel, const PlanLook& look);
std::vector<std::string> lines_of(const Camera& camera, const PlanLook& look);
std::vector<std::string> lines_of(const Mark& mark, const PlanLook& look);

}  // namespace rushlight::plan_parts
