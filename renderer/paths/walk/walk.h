// Walks from meters and walks from lamps share two things: how they reach the next surface, and when they end (Russian
// roulette).
#pragma once

#include "paths/walk/sampler.h"
#include "paths/walk/vertex.h"
#include "scene/scene.h"

namespace rushlight {

/// How a walk treats nets, cloths and panes on its way: by chance, or split in two where a window fills the
/// view and chance would show as specks.
struct VeilPlan {
    static constexpr int by_chance = -2, pass_all = -1;
    int scatter_at = by_chance;    // by_chance, pass_all, or the number of the veil to scatter at, from 0
    int met = 0;                   // veils met on the way
    float chance = 1;              // chance of having passed the veils so far: part of the pdf of the next hit
    Analyser* analyser = nullptr;  // a polarizer that looks through the panes; none: they are taken as they come
};

/// Follows the ray to the next surface. Nets, cloths and panes (veils) let the walk pass unbent as `plan` says; this is
/// null or straight transmission, taken with a probability and weighed so that the mean is right. Nothing is met when
/// the ray leaves the place.
std::optional<Hit> next_meeting(const RayScene& rays, Ray ray, Spectrum& throughput, Sampler& sampler, VeilPlan& plan);

/// Russian roulette: the chance that a walk goes on after `meetings` meetings, the last of them with a surface that
/// sends on at most `share` of what it gets. The first `patience` are never gambled away but on black cloth: for a
/// meter, the rare bright ways start there.
float survival_probability(int meetings, int patience, float share);

}  // namespace rushlight
