// The lamp that a set-up lacks: which of the kit, where, at what level, and what the targets then come to.
#pragma once

#include "results/balance/lamp_place.h"
#include "results/balance/reckoning.h"
#include "setup/read/kit.h"

#include <optional>
#include <string>
#include <vector>

namespace rushlight {

struct MissingLamp {
    LampJob job = LampJob::key;
    std::string person;
    std::string trouble;  // why there is none, or why it does not serve
    LampPlace place;
    Lamp lamp;  // of the kit, as it would stand: name, at, aim, level
    double field = 0;
    bool brings_it = false;                // to its target, by itself; an eye light: it reads in the eye
    std::optional<double> over_iris = {};  // stops, of an eye light in the eye
    bool flag_it_off_the_lens() const { return place.off_lens < field / 2; }
};

/// The lamp that would bring a target.
struct LampLack {
    LampJob job;
    std::size_t mark;
};
/// Nothing where more light is not what a target with this value lacks, or it is no person's.
std::optional<LampLack> lack_of(const Setup& setup, const TargetNumber& n, double value);

/// The lamp for target `k` of `setup`, which has its levels already. Of the kit: what is owned and not in use, else
/// what the catalogue has. Its level is the one that brings this target, the
/// other lamps left as they are.
MissingLamp lamp_for_target(const Setup& setup, const LampLack& lack, std::size_t k, const Kit& kit,
                            const std::vector<Sheet>& others, const Effort& effort, const LayerCache& cache);

/// An eye light: the smallest lamp, at a level that adds a tenth of a stop to the front of the face at most.
MissingLamp eye_light_for(const Setup& setup, std::size_t mark, const Kit& kit, const Effort& effort,
                          const LayerCache& cache);

}  // namespace rushlight
