#include "results/balance/target_check.h"

#include "results/balance/target_numbers.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

bool can_be_read(const Target& t, const std::vector<Sheet>& others) {
    return t.want.kind != Want::Kind::match ||
           std::any_of(others.begin(), others.end(), [&](const Sheet& s) { return s.setup == t.want.other; });
}

}  // namespace

std::vector<TargetCheck> check_targets(const Setup& setup, const Scene& scene, const std::vector<Sheet>& others,
                                       const Effort& effort, KeptLight& light) {
    std::vector<TargetCheck> checks;
    Setup asked = setup;
    std::erase_if(asked.targets, [&](const Target& t) { return !can_be_read(t, others); });
    if (asked.targets.empty() || scene.lights.count() == 0) return checks;
    TargetNumbers numbers(asked, scene);
    const MeterResults found = light.measure(scene, numbers.meters(), effort, numbers.wanted());
    if (found.batches() == 0) return checks;
    numbers.settle(found, others);
    for (const TargetNumber& n : numbers.all()) {
        TargetCheck c;
        c.name = n.name;
        c.want = n.want;
        c.colour = n.colour;
        c.wanted = n.wanted;
        c.within = n.within;
        c.value = n.value(found, 0);
        c.said = n.for_people(c.value.value);
        c.off = n.off(c.value.value);
        c.reached = n.reached(c.value);
        checks.push_back(std::move(c));
    }
    return checks;
}

}  // namespace rushlight
