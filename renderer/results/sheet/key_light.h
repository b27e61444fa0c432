// Which cheek has the key, what makes it, how soft it is, and key to fill as people say it.
#pragma once

#include "paths/measure.h"
#include "results/sheet/sheet.h"
#include "scene/scene.h"

namespace rushlight {

/// Brighter over darker cheek, each flat with all its light, from `meters` numbers near and far.
/// Returns nothing where one of them has no light.
std::optional<Ratio> cheek_ratio(const MeterResults& results, std::size_t near, std::size_t far,
                                 const std::string& mark, bool lens);

/// K:F from (K + F):F. F is what the fill cheek gets, K + F what the key cheek gets; so K:F = (K + F):F - 1.
/// Nothing where the two cheeks are as good as equal: there is no key.
std::optional<Ratio> key_alone_to_fill(const Ratio& cheeks);

/// Fills in key side, source, share, softness and the first two conventions. `near` and `far` are meters of `points`.
void find_key(const Scene& scene, const MeterResults& results, const std::vector<MeterPoint>& points, std::size_t near,
              std::size_t far, const Ratio& cheeks, PersonReadings& person);

}  // namespace rushlight
