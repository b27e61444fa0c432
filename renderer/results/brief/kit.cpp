// The part of a brief about the kit over all set-ups, and its cautions.
#include "results/brief/brief.h"
#include "setup/advice/check.h"
#include "setup/text/words.h"

#include <algorithm>
#include <cmath>
#include <set>

namespace rushlight {

namespace {

void take(std::vector<BriefKitLine>& lines, const KitUse& use, const std::string& setup) {
    const auto it = std::find_if(lines.begin(), lines.end(),
                                 [&](const BriefKitLine& l) { return l.name == use.name && l.is_part == use.is_part; });
    BriefKitLine& line =
        it == lines.end() ? lines.emplace_back(BriefKitLine{use.name, use.is_part, 0, use.owned, {}}) : *it;
    line.most = std::max(line.most, use.used);
    line.in.push_back(setup);
}

bool known(const std::vector<BriefKitLine>& lines, const std::string& name, bool is_part) {
    return std::any_of(lines.begin(), lines.end(),
                       [&](const BriefKitLine& l) { return l.name == name && l.is_part == is_part; });
}

/// Every set-up in every option.
template <class F>
void for_each_option(const Brief& b, const F& f) {
    for (const BriefSetup& s : b.setups)
        for (const BriefOption& o : s.options) f(o.setup);
}

}  // namespace

std::vector<BriefKitLine> kit_over_all(const std::vector<BriefSetup>& setups, const Kit& kit) {
    std::vector<BriefKitLine> lines;
    for (const BriefSetup& s : setups) {
        for (const KitUse& u : s.kit.items) take(lines, u, s.setup().name);
        for (const KitUse& u : s.kit.parts) take(lines, u, s.setup().name);
    }
    // Adds what else lies in the van. An item that only the catalogue has does not lie there.
    for (const KitItem* item : kit.items())
        if (!item->generic && item->count && *item->count > 0 && !known(lines, item->name, false))
            lines.push_back({item->name, false, 0, item->count, {}});
    for (const KitPart& part : kit.parts())
        if (part.count && *part.count > 0 && !known(lines, part.name, true))
            lines.push_back({part.name, true, 0, part.count, {}});
    std::stable_partition(lines.begin(), lines.end(), [](const BriefKitLine& l) { return !l.is_part; });
    return lines;
}

std::vector<std::string> brief_cautions(const Brief& brief) {
    std::vector<std::string> say;
    bool lamps = false, glass = false, outside = false, tungsten = false, child = false;
    std::set<std::string> told;
    for_each_option(brief, [&](const Setup& s) {
        for (const Lamp& l : s.rig.lamps) {
            lamps = lamps || l.on;
            tungsten = tungsten || (l.on && l.light == LightKind::tungsten);
            outside = outside || l.at.y < s.place.lower.y || l.at.y > s.place.upper.y || l.at.x < s.place.lower.x ||
                      l.at.x > s.place.upper.x;
        }
        for (const Opening& o : s.place.room.openings)
            glass =
                glass || (o.glazed && (o.nd_density > 0 || o.curtain || luminous_share(o.gel, Spectrum{1.0F}) < 0.99));
        for (const Mark& m : s.rig.marks) child = child || m.person.height < 1.45;
        for (const std::string& r : careful_remarks(s))
            if (r != planning_caution && told.insert(r).second) {
                if (r.rfind("Find out which sockets", 0) == 0) continue;
                say.push_back(r);
            }
    });
    if (lamps)
        say.emplace_back(
            "Electricity. Find out which sockets share a circuit, read its breaker, ask what else is on it. Watts "
            "are added up at full, whatever the level. Some 80 % of a breaker for long loads is a rule of thumb, and "
            "law in some places only. Nobody but a licensed electrician opens a panel.");
    say.emplace_back(
        "Overhead and heavy. Whatever hangs or leans over people needs a rated fixing, a second safety line and "
        "somebody qualified; every stand its bags, every frame more than its own weight. Keep exits clear.");
    if (lamps)
        say.emplace_back(std::string("Heat. ") + (tungsten ? "Filament heads burn skin and cloth. " : "") +
                         "Keep the clearance that a lamp's maker asks for to cloth, gels, ceilings and sprinklers; let "
                         "heads cool before they are moved.");
    if (glass)
        say.emplace_back(
            "Glass. Sheets and cloth taped to a pane in the sun can crack it by heat: ask the owner, leave air "
            "behind.");
    if (outside)
        say.emplace_back(
            "Outside. A lamp, frame or cloth out of doors needs cover from rain, lines against wind, and permission to "
            "stand where it does.");
    bool sun = false;
    for (const BriefSetup& s : brief.setups) sun = sun || s.day.has_value();
    if (sun)
        say.emplace_back(
            "Sun. Never look at it through a finder or a lens; it burns eyes and sensors, and a lens or a concave "
            "mirror left in it can set cloth alight. Cap what is not in use.");
    say.push_back(
        std::string("Minors. ") + (child ? "Somebody on a mark is small enough to be a child. " : "") +
        "Where anybody is under age, hours, breaks and who must be present are set by law where you shoot; ask "
        "before you promise the order of set-ups to anybody.");
    say.emplace_back(
        "Local codes, the building's owner, licensed electricians and trained riggers decide; this page does not.");
    return say;
}

}  // namespace rushlight
