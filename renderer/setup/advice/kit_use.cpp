#include "setup/advice/kit_use.h"

#include "setup/text/words.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

KitUse& use_of(std::vector<KitUse>& uses, const std::string& name) {
    const auto it = std::find_if(uses.begin(), uses.end(), [&](const KitUse& u) { return u.name == name; });
    return it == uses.end() ? uses.emplace_back(KitUse{name, 0, {}, {}, false}) : *it;
}

/// How many are owned: as counted, or as many as the items that are owned have of it. Nothing where nobody said.
std::optional<int> owned_of(const Kit& kit, const std::string& part) {
    if (const KitPart* p = kit.part(part); p && p->count) return p->count;
    int sum = 0;
    for (const KitItem* item : kit.items())
        if (!item->generic && std::find(item->parts.begin(), item->parts.end(), part) != item->parts.end())
            sum += item->count.value_or(0);
    return sum > 0 ? std::optional(sum) : std::nullopt;
}

/// An item that only the catalogue has is in the van as far as its parts are: a head and its lens that are owned at
/// spot are there at flood.
int put_together(const Kit& kit, const KitItem& item) {
    int least = item.parts.empty() ? 0 : 1000;
    for (const std::string& part : item.parts) least = std::min(least, owned_of(kit, part).value_or(0));
    return least;
}

void take_part(KitList& list, const Kit& kit, const std::string& name, int how_many, const std::string& thing) {
    KitUse& use = use_of(list.parts, name);
    use.is_part = true;
    if (kit.owned()) use.owned = owned_of(kit, name);
    use.used += how_many;
    if (std::find(use.things.begin(), use.things.end(), thing) == use.things.end()) use.things.push_back(thing);
}

void take(KitList& list, const Kit& kit, const std::string& like, const std::string& thing) {
    const KitItem* item = kit.item(like);
    if (item == nullptr) {
        list.of_no_item.push_back(thing);
        return;
    }
    if (item->practical && item->generic) {
        list.of_the_place.push_back(thing);
        return;
    }
    KitUse& use = use_of(list.items, item->name);
    ++use.used;
    use.things.push_back(thing);
    use.owned = item->count;
    if (kit.owned() && item->generic) use.owned = put_together(kit, *item);
    list.weight += item->weight;
    for (const std::string& part : item->parts) take_part(list, kit, part, 1, thing);
    if (!item->stand.empty()) take_part(list, kit, item->stand, item->stands, thing);
}

/// A bulb, or what hangs or stands in a shade, that nobody brings.
bool is_practical(const Lamp& lamp) {
    constexpr double largest_bulb = 0.25;  // m
    return lamp.kit_item.empty() && lamp.shape == LampShape::ball && (lamp.shade || lamp.width <= largest_bulb);
}

void add_load(KitList& list, const Lamp& lamp) {
    if (!lamp.on) return;
    list.watts += lamp.watts;
    const auto on = std::find_if(list.circuits.begin(), list.circuits.end(),
                                 [&](const CircuitLoad& c) { return c.circuit.name == lamp.circuit; });
    if (on == list.circuits.end()) {
        if (!list.circuits.empty()) list.on_no_circuit.push_back(lamp.name);
        return;
    }
    on->watts += lamp.watts;
    on->lamps.push_back(lamp.name);
    if (lamp.watts <= 0) on->unknown.push_back(lamp.name);
}

std::string line_of(const KitUse& u) {
    std::string s = std::to_string(u.used);
    if (u.owned) s += " of " + std::to_string(*u.owned);
    s.resize(std::max<std::size_t>(s.size(), 9), ' ');
    s += u.name + ": " + in_a_list(u.things);
    if (u.short_by() > 0) s += *u.owned == 0 ? "; NOT IN THE KIT" : "; " + std::to_string(u.short_by()) + " SHORT";
    return s;
}

std::string line_of(const CircuitLoad& c) {
    const double rated = c.circuit.volts * c.circuit.amps;
    std::string s = in_quotes(c.circuit.name) + ": " + plain(std::round(c.watts)) + " W, " +
                    plain(std::round(c.amps() * 10) / 10) + " A at " + plain(c.circuit.volts) + " V, " +
                    plain(std::round(100 * c.share())) + " % of its " + plain(c.circuit.amps) + " A (" +
                    plain(std::round(rated)) + " W)";
    if (c.share() > 1)
        s += "; OVERLOADED";
    else if (c.share() > long_load_share)
        s += "; over the 80 % for long loads";
    if (!c.unknown.empty()) s += "; draw not known: " + in_a_list(c.unknown);
    return s;
}

}  // namespace

KitList kit_list(const Setup& setup, const Kit& kit) {
    KitList list;
    for (const Circuit& c : setup.rig.circuits) list.circuits.push_back({c, c.other, {}, {}});
    for (const Lamp& lamp : setup.rig.lamps) {
        if (is_practical(lamp))
            list.of_the_place.push_back(lamp.name);
        else
            take(list, kit, lamp.kit_item, lamp.name);
        add_load(list, lamp);
    }
    for (const Panel& panel : setup.rig.panels) take(list, kit, panel.kit_item, panel.name);
    return list;
}

std::vector<std::string> kit_lines(const KitList& list, const Kit& kit) {
    std::vector<std::string> lines;
    for (const KitUse& u : list.items) lines.push_back(line_of(u));
    for (const KitUse& u : list.parts) lines.push_back(line_of(u));
    if (!list.of_no_item.empty() && (kit.owned() || !list.items.empty()))
        lines.push_back("of no kit item: " + in_a_list(list.of_no_item));
    if (!list.of_the_place.empty() && (kit.owned() || !list.items.empty()))
        lines.push_back("of the place, not of the kit: " + in_a_list(list.of_the_place) +
                        (list.of_the_place.size() == 1 ? ", a practical" : ", practicals"));
    if (list.weight > 0) lines.push_back(plain(std::round(10 * list.weight) / 10) + " kg without stands and bags");
    if (list.watts > 0) lines.push_back(plain(std::round(list.watts)) + " W for lamps, all at full");
    for (const CircuitLoad& c : list.circuits) lines.push_back("circuit " + line_of(c));
    if (!list.on_no_circuit.empty()) lines.push_back("not on a circuit yet: " + in_a_list(list.on_no_circuit));
    if (!list.circuits.empty())
        lines.push_back(
            "80 % for long loads is a rule of thumb, and law in some places only. Local codes, the owner of the house "
            "and a licensed electrician decide; read the breaker, find out what else is on it.");
    return lines;
}

}  // namespace rushlight
