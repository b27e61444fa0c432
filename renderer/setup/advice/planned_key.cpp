#include "setup/advice/planned_key.h"

#include "quantity/exposure.h"
#include "setup/text/words.h"

#include <cmath>

namespace rushlight {

double PlannedKey::over_grey(double grey) const {
    return std::log2(lux * skin / pi / grey);
}

std::vector<PlannedKey> planned_keys(const Setup& setup) {
    std::vector<PlannedKey> keys;
    for (const Mark& m : setup.rig.marks)
        for (const Target& t : setup.targets) {
            if (tidy(t.reading) != tidy(m.name + " key cheek")) continue;
            Exposure asked = setup.exposure();
            double lux = 0;
            if (t.want.kind == Want::Kind::t_stop) {
                asked.t_stop = t.want.value;
                lux = metered_illuminance(asked).value;
            } else if (t.want.kind == Want::Kind::lux) {
                lux = t.want.value;
            } else if (t.want.kind == Want::Kind::over && (t.want.other.empty() || tidy(t.want.other) == "grey")) {
                lux = metered_illuminance(asked).value * std::exp2(t.want.value);
            }
            if (!(lux > 0)) continue;
            keys.push_back({m.name, lux, m.person.skin});
            break;
        }
    return keys;
}

}  // namespace rushlight
