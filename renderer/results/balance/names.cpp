#include "results/balance/names.h"

#include "results/balance/places.h"
#include "results/balance/target_numbers.h"
#include "setup/text/where.h"
#include "setup/text/words.h"

#include <algorithm>

namespace rushlight {

namespace {

template <class LookUp>
NamedInBalance looked_up(const std::string& where, const LookUp& look_up) {
    try {
        look_up();
        return {where, ""};
    } catch (const InputError& e) {
        return {where, e.what()};
    }
}

}  // namespace

std::vector<NamedInBalance> named_in_balance(const Setup& setup, const Scene& scene) {
    std::vector<NamedInBalance> all;
    Setup alone = setup;  // with one target at a time
    for (const Target& t : setup.targets) {
        alone.targets = {t};
        all.push_back(looked_up(InputError::written(t.where), [&] {
            const TargetNumbers numbers(alone, scene);
            numbers.wanted();
            numbers.expect_each_of_its_kind();
        }));
    }
    for (const BalanceMove& m : setup.balance.moves)
        all.push_back(looked_up(InputError::written(m.where), [&] { place_of(setup, m); }));
    std::vector<std::string> lamps;
    for (const Lamp& l : setup.rig.lamps) lamps.push_back(l.name);
    for (const std::string& name : setup.balance.lamps.value_or(std::vector<std::string>{})) {
        const bool known = std::find(lamps.begin(), lamps.end(), name) != lamps.end();
        all.push_back({"[balance] lamps " + name,
                       known ? "" : "[balance] lamps: no lamp " + in_quotes(name) + hint(name, lamps)});
    }
    return all;
}

}  // namespace rushlight
