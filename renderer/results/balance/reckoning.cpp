#include "results/balance/reckoning.h"

#include "setup/text/where.h"
#include "setup/text/words.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

Setup all_burning(Setup s, const std::vector<std::size_t>& lamps) {
    for (const std::size_t i : lamps) {
        Lamp& l = s.rig.lamps[i];
        if (!l.burning().dark()) continue;
        l.on = true;
        l.level = 1;
    }
    return s;
}

}  // namespace

Reckoning::Reckoning(Setup s, const std::vector<std::size_t>& lamps, const std::vector<Sheet>& others,
                     const Effort& effort, const LayerCache& cache)
    : setup(std::move(s)),
      traced(all_burning(setup, lamps)),
      scene(build_scene(traced)),
      numbers(setup, scene),
      found(KeptLight(traced, traced, cache).measure(scene, numbers.meters(), effort, numbers.wanted())),
      as_found(found) {
    if (found.batches() == 0) throw InputError("there is no light in set-up " + in_quotes(setup.name) + " to balance");
    // Lamps that were off give nothing.
    std::vector<Spectrum> share;
    for (const std::string& source : scene.lights.sources()) {
        const auto lamp = std::find_if(setup.rig.lamps.begin(), setup.rig.lamps.end(),
                                       [&](const Lamp& l) { return l.name == source; });
        share.emplace_back(lamp != setup.rig.lamps.end() && lamp->burning().dark() ? 0.0F : 1.0F);
    }
    as_found = found.relit(share);
    numbers.settle(as_found, others);
}

BalanceAsFound Reckoning::standing(const std::vector<std::size_t>& lamps, double stop) const {
    BalanceAsFound standing;
    for (const std::size_t i : lamps) {
        const Lamp& l = setup.rig.lamps[i];
        standing.levels.push_back(l.burning().dark() ? 0 : l.level);
    }
    for (const TargetNumber& n : numbers.all())
        standing.met.push_back(std::abs(n.off(n.value(as_found, stop).value)) <= n.within);
    return standing;
}

}  // namespace rushlight
