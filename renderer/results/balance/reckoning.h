// A set-up as it is looked at for a balance: every lamp that may change burns, and its meters are read.
#pragma once

#include "results/balance/solver.h"
#include "results/light/kept_light.h"
#include "results/sheet/sheet.h"
#include "scene/scene.h"

#include <vector>

namespace rushlight {

struct Reckoning {
    /// `lamps` may change, by number. Throws InputError for a target whose reading is not there, and where there is no
    /// light.
    Reckoning(Setup s, const std::vector<std::size_t>& lamps, const std::vector<Sheet>& others, const Effort& effort,
              const LayerCache& cache);
    Reckoning(const Reckoning&) = delete;  // its numbers point to its set-up

    /// Levels and targets as they are, the camera's stop changed by so many stops from what targets count from.
    BalanceAsFound standing(const std::vector<std::size_t>& lamps, double stop = 0) const;

    Setup setup, traced;
    Scene scene;
    TargetNumbers numbers;
    MeterResults found, as_found;
};

}  // namespace rushlight
