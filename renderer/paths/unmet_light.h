// What may be missing from a reading because no walk has met it. Nothing is sure that was not seen: where a source's
// light is about and none of it was found at a meter, or less than one path brings, the error is what one path more
// could have brought.
#pragma once

#include "paths/pass.h"

namespace rushlight {

class UnmetLight {
public:
    /// `first`: walks that tell what light is about.
    UnmetLight(const Scene& scene, const std::vector<MeterPoint>& meters, const FirstWalks& first);

    /// At the meter, of all sources, by one pass with this sharing that meets one path of many for once.
    float in_a_pass(std::size_t meter, const Sharing& sharing) const;
    /// Standard errors, lx, [meter][source], beside those that the spread between batches tells. After n walks that
    /// found nothing, about one in n may find something: no more than a share of 1 / n of what reaches the meter if
    /// nothing stands between (the rule of three is the same bound at 95 %). `walks` of each kind, at each meter.
    struct Walks {
        double from_lights = 0, from_meter = 0;
    };
    std::vector<float> errors(const MeterResults& results, const std::vector<Walks>& walks) const;

private:
    double walks_of(std::size_t source, const Walks& walks) const;
    const Scene& scene_;
    std::size_t sources_;
    std::vector<float> unhindered_;  // lx, [meter][source]
    std::vector<float> thrown_;      // lx, [source]: by mirrors, see ThrownLight
    std::vector<bool> spot_;
};

}  // namespace rushlight
