#include "results/balance/target_check.h"

#include "results/balance/target_numbers.h"

#include <algorithm>
#include <cmath>
#include <optional>

namespace rushlight {

namespace {

bool can_be_read(const Target& t, const std::vector<Sheet>& others) {
    return t.want.kind != Want::Kind::match ||
           std::any_of(others.begin(), others.end(), [&](const Sheet& s) { return s.setup == t.want.other; });
}

/// What this set-up's own sheet says of the same thing: one number has one value, wherever it is printed. Nothing where
/// the sheet has no such number.
std::optional<Measured> in_sheet(const TargetNumber& n, const Sheet& sheet) {
    const std::string over_grey = " over grey";
    const bool placed = n.name.ends_with(over_grey);
    const std::string name = placed ? n.name.substr(0, n.name.size() - over_grey.size()) : n.name;
    for (const Reading& r : sheet.readings) {
        if (r.name != name || r.kind != "flat") continue;
        if (n.colour) return r.kelvin > 0 ? std::optional(Measured{1e6 / r.kelvin, 0}) : std::nullopt;
        if (!n.under.empty()) return std::nullopt;
        Measured m = stops_of(r.lux);
        m.value += n.shift;
        return m;
    }
    for (const Ratio& r : sheet.ratios)
        if (n.said == TargetNumber::Said::ratio && (r.name == name || r.name.rfind(name + ",", 0) == 0)) return r.stops;
    for (const Separation& s : sheet.separations)
        if (s.name == name) return s.stops;
    return std::nullopt;
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
    const auto own = std::find_if(others.begin(), others.end(), [&](const Sheet& s) { return s.setup == setup.name; });
    for (const TargetNumber& n : numbers.all()) {
        TargetCheck c;
        c.name = n.name;
        c.want = n.want;
        c.colour = n.colour;
        c.wanted = n.wanted;
        c.within = n.within;
        const auto read = own == others.end() ? std::nullopt : in_sheet(n, *own);
        c.value = read ? *read : n.value(found, 0);
        c.said = n.for_people(c.value.value);
        c.off = n.off(c.value.value);
        c.reached = n.reached(c.value);
        c.cannot_tell = n.cannot_tell(c.value);
        checks.push_back(std::move(c));
    }
    return checks;
}

}  // namespace rushlight
