// The readings a set-up is judged by: meters placed by hand, and on every face the cheek away from the lens,
// the cheek towards it, the front, and a dome held towards the lens; how far the cheeks lie apart; how far the
// outline of the head stands off what is behind it.
#pragma once

#include "paths/walk/camera_paths.h"
#include "paths/work/effort.h"
#include "results/light/kept_light.h"
#include "results/sheet/sheet.h"
#include "scene/scene.h"
#include "setup/plain/setup.h"

namespace rushlight {

Sheet take_readings(const Setup& setup, const Scene& scene, const Effort& effort, KeptLight& light);
Sheet take_readings(const Setup& setup, const Scene& scene, const Effort& effort);

/// Every reading's name and where its meter is held.
struct NamedMeter {
    std::string name, mark;
    MeterPoint point;
};
std::vector<NamedMeter> meters_of(const Setup& setup, const Scene& scene);
/// The one that was meant: its whole name, or a mark's for its front. Throws InputError.
NamedMeter meter_named(const std::string& asked, const Setup& setup, const Scene& scene);

/// At the usual effort of 1 %: a spot is sure to a twentieth of a stop, and so are the stops between two sides of an
/// outline.
inline constexpr float sure_enough_spot = 0.035F, sure_enough_side = 0.0245F;

/// Small spots along the outline of a head, and just beside it.
struct OutlineMeters {
    std::string name;  // "A hair over background"
    std::size_t mark = 0;
    std::vector<MeterPoint> spots;
    std::vector<std::size_t> on, behind;  // of the spots
};
/// One for each head of which enough is seen.
std::vector<OutlineMeters> outlines_of(const Setup& setup, const Scene& scene);

/// Stops from `before` to `after`, for every reading and separation of the same name.
std::vector<Change> changes(const Sheet& before, const Sheet& after);

}  // namespace rushlight
