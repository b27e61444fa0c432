// Where a black cloth or a white board of a given size would do most at one point: judged at once from the sphere of
// light that the point sees, then traced with the panel really put in.
#pragma once

#include "results/compare/origins.h"
#include "results/frame/sphere.h"

#include <optional>

namespace rushlight {

struct PanelWish {
    bool black = true;
    double width = 1.2, height = 1.2;  // m
    double reach = 1.0;                // m, from the point to the panel's middle at most
};

struct BestPlace {
    PanelWish wish;
    Panel panel;
    double distance = 0;    // m
    double covered = 0;     // share of what the meter weighs that the panel fills, 0..1
    double estimate = 0;    // stops, from the sphere
    double even_bound = 0;  // stops that a quite black panel here would take of an even surround: log2(1 - covered)
    Measured traced;        // stops, with the panel put in
    int tried = 0, possible = 0;
};

/// Common practice, no source: nearer than this a panel is in the way of the person.
inline constexpr double nearest_panel = 0.4;  // m

/// Share of what `meter` weighs that `panel` fills, by the sphere's pixels; what stands before the panel hides it.
double share_covered(const Sphere& sphere, const Panel& panel);

/// Stops by which the reading changes, were `panel` there and of luminance `own`: what it hides of the sphere is
/// replaced by its own.
double stops_from_sphere(const Sphere& sphere, const Panel& panel, double own);

/// Light that falls on the working side of each panel where it would stand, lux: as a mean over `points` by `points`
/// places on it.
std::vector<double> falls_on(const Scene& scene, const std::vector<Panel>& panels, int points, double error,
                             const Effort& effort, KeptLight& light);

/// The place with the largest effect among those that are possible: inside the place, through nothing, out of the
/// camera's picture, and before no lamp. Nothing if there is none.
std::optional<BestPlace> best_place(const Setup& setup, const Scene& scene, const Origins& origins,
                                    const Sphere& sphere, const PanelWish& wish, const Effort& effort,
                                    KeptLight& light);

}  // namespace rushlight
