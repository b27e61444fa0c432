// Daylight is linear: the light of every patch of sky, of the ground and of the lamps is traced once, the sun once for
// every hour. What a meter reads at any hour and under any sky is then a weighted sum.
#pragma once

#include "paths/measure.h"
#include "results/day/weather.h"
#include "results/light/varied.h"
#include "scene/scene.h"

#include <memory>

namespace rushlight {

/// Rings of the sky's patches (scene/light/sky_patches.h): 16 make 652 of 5.6 degrees each.
inline constexpr int usual_sky_rings = 16;

class TracedDay {
public:
    /// Traces `meters` of the set-up for the hours `clock`. The scene is the set-up's, and its lights are changed.
    /// Errors wanted are those of `wanted` (of every meter by itself where there are none), at each hour of a clear day
    /// and against all that is read; an hour of sun that would take too long to be so sure says so by its error.
    TracedDay(const Setup& setup, Scene& scene, std::vector<MeterPoint> meters, Wanted wanted,
              std::vector<double> clock, const Effort& effort, int sky_rings = usual_sky_rings);

    struct Taken {
        std::vector<Varied> amount;   // lux, or cd/m2 of a spot, by meter
        std::vector<Spectrum> light;  // the same in bands
    };
    /// What every meter reads at hour number `hour` when the outside is as given; without the sun if `with_sun` is
    /// false.
    Taken taken(std::size_t hour, const Daylight& outside, bool with_sun = true) const;

    double seconds() const { return seconds_; }
    bool cut_short() const { return cut_short_; }

private:
    void trace_sky(const Setup& setup, Scene& scene, const Wanted& wanted, const Effort& effort);
    void trace_sun(const Setup& setup, Scene& scene, const Wanted& wanted, const Effort& effort, double clock,
                   std::size_t hour);

    /// One pass: a meter's mean light from each layer, and the means of groups of batches.
    struct Pass {
        std::vector<Spectrum> light;             // [meter][layer]
        std::vector<float> lux;                  // [meter][layer]
        std::vector<std::vector<float>> groups;  // [group]: lux by [meter][layer]
        std::size_t layers = 0;
        Pass() = default;
        /// Layers from `first` to before `end` of what was measured.
        Pass(const MeterResults& results, std::size_t first, std::size_t end);
    };
    /// Adds a layer under another light than it was traced under: `ratio` a band, times `weight`.
    static void add(const Pass& pass, std::size_t meter, std::size_t layer, const Spectrum& ratio, double weight,
                    Spectrum& light, std::vector<double>& groups);

    std::vector<MeterPoint> meters_;
    SkyPatches patches_;
    Spectrum traced_sky_, traced_ground_;
    std::size_t lamps_ = 0;
    Pass sky_;
    std::vector<Pass> sun_;             // by hour; empty where no sun is
    std::vector<Spectrum> traced_sun_;  // irradiance it was traced with
    double seconds_ = 0;
    bool cut_short_ = false;
};

}  // namespace rushlight
