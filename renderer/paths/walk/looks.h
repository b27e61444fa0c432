// How a meter weighs directions, and light tracing to it: every light path looks at every meter (t = 1).
#pragma once

#include "paths/walk/aim.h"
#include "paths/walk/camera_paths.h"

namespace rushlight {

/// Russian roulette for a shadow ray that would bring `light` at most. A ray that brings `enough` is always traced, a
/// weaker one with a chance in proportion and weighed up accordingly, so that the mean stays. Few of the rays bring
/// most of the light.
bool worth_a_ray(Spectrum& light, float enough, Sampler& sampler);

/// Directions as the receptor weighs them: by cosine for a flat disc, by 1 + cosine for a dome.
Vec3 drawn_direction(const MeterPoint& meter, float u0, float u1);

/// How many of the walks are aimed at what is bright.
float share_of_aims(const MeterPoint& meter);

/// The same of a spot meter: even over the circle that it measures.
Vec3 drawn_in_spot(const MeterPoint& meter, float u0, float u1);

/// Pdf per steradian with which a walk sets out from the meter: cosine / pi or (1 + cosine) / (4 pi), mixed
/// with the openings and with what is bright (lit_patches.h).
float pdf_of(const MeterPoint& meter, const Aim& aim, const Vec3& toward);

/// Light tracing to the receptor: adds what every light path of the batch shows to the meter directly, summed over the
/// batch.
void look_at_light_paths(const Scene& scene, const MeterPoint& meter, const LightPaths& pool, const Sharing& sharing,
                         Sampler sampler, std::span<Spectrum> layers, const LastSurfaces* last_surfaces = nullptr);

}  // namespace rushlight
