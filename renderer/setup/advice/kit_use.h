// The part of the kit that a set-up takes, what is short, and what its lamps draw.
#pragma once

#include "setup/plain/setup.h"
#include "setup/read/kit.h"

#include <optional>
#include <string>
#include <vector>

namespace rushlight {

/// One line of the list: how many are used, of how many that are owned.
struct KitUse {
    std::string name;
    int used = 0;
    std::optional<int> owned;         // nothing: nobody counted them
    std::vector<std::string> things;  // of the set-up, by name
    bool is_part = false;             // a head, a frame, a stand: counted over several items
    int short_by() const { return owned && used > *owned ? used - *owned : 0; }
};

struct CircuitLoad {
    Circuit circuit;
    double watts = 0;  // of the lamps plugged into it that are on, at full, and of what else hangs on it
    std::vector<std::string> lamps;
    std::vector<std::string> unknown;  // lamps on it whose draw nobody knows
    double amps() const { return watts / circuit.volts; }
    double share() const { return amps() / circuit.amps; }
};

struct KitList {
    std::vector<KitUse> items, parts;
    std::vector<std::string> of_no_item;    // things that are like nothing in the kit
    std::vector<std::string> of_the_place;  // practicals: the house's own lamps
    std::vector<CircuitLoad> circuits;
    std::vector<std::string> on_no_circuit;  // lamps, where circuits are given
    double watts = 0;                        // all lamps that are on
    double weight = 0;                       // kg of the items used, as far as known, without stands
};

KitList kit_list(const Setup& setup, const Kit& kit);

/// Long loads are kept to this share of a breaker's rating: common practice, no source, and a rule in some places only.
inline constexpr double long_load_share = 0.8;

/// The list in lines for people, with the usual caution where there are circuits.
std::vector<std::string> kit_lines(const KitList& list, const Kit& kit);

}  // namespace rushlight
