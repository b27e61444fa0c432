// Walks from meters and walks from lamps share two things: how they reach the next surface, and when they end (Russian
// roulette).
#pragma once

#include "paths/walk/sampler.h"
#include "paths/walk/vertex.h"
#include "scene/scene.h"

#include <span>
#include <vector>

namespace rushlight {

/// How a walk treats nets, cloths and panes on its way: by chance, or split in two where a window fills the
/// view and chance would show as specks. Sharp mirrors turn it: a way that flat mirrors fold is as long as it would be
/// straight, and keeps its pdf.
struct VeilPlan {
    static constexpr int by_chance = -2, pass_all = -1;
    int scatter_at = by_chance;  // by_chance, pass_all, or the number of the veil to scatter at, from 0
    int met = 0;                 // veils met on the way, as far as no chance turned it
    float chance = 1;            // of having gone as it went: part of the pdf of what is met next
    int folds = 0;               // by mirrors
    struct Fold {
        int mirror = -1;   // of the scene; -1: none of those that are known
        float chance = 1;  // of having been mirrored there
    } first, last;
    Analyser* analyser = nullptr;  // a polarizer that looks through the panes; none: they are taken as they come
};

/// Follows the ray to the next surface that scatters it. Nets, cloths and panes let the walk pass unbent as `plan`
/// says, weighed so that the mean is right; sharp mirrors turn `ray`, which then starts at the last of them, while the
/// hit is as far as the whole way. Nothing is met when the ray leaves the place.
std::optional<Hit> next_meeting(const Scene& scene, Ray& ray, Spectrum& throughput, Sampler& sampler, VeilPlan& plan);

/// One list a thread, so that no walk has to ask for memory.
inline std::span<float> scratch_list(std::size_t count) {
    thread_local std::vector<float> list;
    list.assign(count, 0.0F);
    return list;
}

/// Russian roulette: the chance that a walk goes on after `meetings` meetings, the last of them with a surface that
/// sends on at most `share` of what it gets. The first `patience` are never gambled away but on black cloth: for a
/// meter, the rare bright ways start there.
float survival_probability(int meetings, int patience, float share);

}  // namespace rushlight
