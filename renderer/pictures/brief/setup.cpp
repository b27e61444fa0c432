// The part of a brief about one set-up.
#include "pictures/brief/document.h"
#include "pictures/plan/plan.h"
#include "pictures/tables/day_table.h"
#include "pictures/words/numbers.h"
#include "quantity/clock.h"
#include "results/compare/comparison.h"
#include "setup/plain/face.h"
#include "setup/text/words.h"

#include <algorithm>
#include <cmath>

namespace rushlight::brief_parts {

namespace {

using Block = BriefBlock::Kind;

BriefBlock table(std::vector<BriefTable::Column> columns) {
    BriefBlock b;
    b.kind = Block::table;
    b.table.columns = std::move(columns);
    return b;
}

BriefBlock list(std::vector<std::string> items) {
    BriefBlock b;
    b.kind = Block::list;
    b.items = std::move(items);
    return b;
}

std::string between(const Interval& i) {
    return clock_text(i.from) + " – " + clock_text(i.to);
}
std::string between(const std::vector<Interval>& all) {
    std::string words;
    for (const Interval& i : all) words += (words.empty() ? "" : ", ") + between(i);
    return words;
}

/// As people say it, in the units asked for.
std::string said_in(const MainNumber& n, BriefUnits units) {
    const auto lux = n.said.find("  ");
    if (units == BriefUnits::metric || !n.said.ends_with(" lx") || lux == std::string::npos) return n.said;
    return n.said.substr(0, lux) + "  " + light_text(std::exp2(n.stops.value), units);
}

std::string frame_words(const BriefOption& o) {
    std::string words = "Frame of set-up " + o.setup.name + ", " + o.setup.option + ".";
    for (const MainNumber& n : main_numbers(o.sheet)) words += " " + n.name + " " + n.said + ".";
    return words;
}

/// A head that shines one way leans: by how much, and to whom.
std::string aim_words(const Setup& s, const Lamp& l, const BriefLook& look) {
    if (const Mark* m = lit_mark(s.rig, l))
        return m->name + ", " + length_text((face_of(*m) - l.at).length(), look.units);
    if (l.shape == LampShape::ball || l.shape == LampShape::tube) return "all round";
    const double down = -degrees(std::asin(std::clamp(static_cast<double>(l.aim.z), -1.0, 1.0))).value;
    return fixed(std::abs(down), 0) + "° " + (down >= 0 ? "down" : "up");
}

std::string optics_words(const Lamp& l, const BriefLook& look) {
    if (!l.kit_item.empty()) return l.kit_item;
    switch (l.shape) {
        case LampShape::hard:
            return "hard, beam " + fixed(l.beam, 0) + "°, field " + fixed(l.field, 0) + "°";
        case LampShape::box:
            return "box " + size_text(l.width, l.height, look.units) +
                   (l.grid > 0 ? ", grid " + fixed(l.grid, 0) + "°" : "");
        case LampShape::ball:
            return "ball, " + length_text(l.width, look.units) + " across";
        case LampShape::tube:
            return "tube, " + length_text(l.width, look.units);
        case LampShape::ring:
            break;
    }
    return "ring, " + length_text(l.width, look.units) + " across";
}

}  // namespace

void add_pictures(Blocks& to, const Brief& b, std::size_t i) {
    const BriefSetup& s = b.setups[i];
    const auto add = [&](BriefFigure figure) {
        BriefBlock f;
        f.kind = Block::figures;
        f.figures.push_back(std::move(figure));
        to.push_back(f);
    };
    if (s.options.front().frame.there())
        add({BriefFigure::Kind::frame, i, 0, false, "", frame_words(s.options.front())});
    if (s.map)
        add({BriefFigure::Kind::map, i, 0, false, "",
             "Light map of set-up " + s.setup().name + ": stops over what the camera's exposure asks for."});
}

void add_targets(Blocks& to, const BriefSetup& s) {
    if (s.targets.empty()) return;
    to.push_back(heading("Targets"));
    BriefBlock t =
        table({{"target", false, false}, {"wanted", false, false}, {"there", true, false}, {"", false, false}});
    for (const TargetCheck& c : s.targets) {
        std::string verdict = "reached";
        if (!c.reached && std::isfinite(c.off))
            verdict = "missed by " +
                      (c.colour ? fixed(std::abs(c.off), 0) + " mired" : fixed(std::abs(c.off), 1) + " stops") +
                      (c.off > 0 ? ", too bright" : ", too dark");
        else if (!c.reached)
            verdict = "missed: no light";
        t.table.rows.push_back({c.name, c.want, c.said, verdict});
    }
    to.push_back(t);
    if (std::any_of(s.targets.begin(), s.targets.end(), [](const TargetCheck& c) { return !c.reached; }))
        to.push_back(small("rushlight balance looks for levels, gels and a stop that reach them."));
}

void add_readings(Blocks& to, const BriefSetup& s, const BriefLook& look) {
    const Sheet& sheet = s.sheet();
    if (sheet.readings.empty()) return;
    to.push_back(heading("Readings"));
    BriefBlock t = table({{"meter", false, false},
                          {"side", false, false},
                          {"light", true, false},
                          {"T", true, false},
                          {"kelvin", true, false},
                          {"mostly from", false, false}});
    for (const Reading& r : sheet.readings) {
        const bool lit = r.lux.value > 0;
        std::string from = "–";
        double most = 0, sum = 0;
        for (const Measured& m : r.by_source) sum += m.value;
        for (std::size_t i = 0; i < r.by_source.size() && i < sheet.sources.size(); ++i)
            if (r.by_source[i].value > most) {
                most = r.by_source[i].value;
                from = sheet.sources[i] + ", " + percent_text(most / sum);
            }
        t.table.rows.push_back({r.name + (r.kind == "dome" ? " (dome)" : ""), r.side,
                                light_text(r.lux.value, r.lux.error, look.units), lit ? fixed(r.t_stop, 1) : "–",
                                lit && r.kelvin > 0 ? fixed(r.kelvin, 0) : "–", from});
    }
    to.push_back(t);
    std::vector<std::string> say;
    for (const Ratio& r : sheet.ratios)
        if (std::isfinite(r.stops.value) && std::isfinite(r.ratio))
            say.push_back(r.name + ": " + ratio_text(r.ratio) + ", " +
                          with_error(fixed(r.stops.value, 1), r.stops.error) + " stops");
    for (const Separation& x : sheet.separations) say.push_back(x.name + ": " + with_error(x.stops) + " stops");
    for (const PersonReadings& p : sheet.people) {
        if (!p.in_picture) continue;
        std::string skin;
        for (const SpotReading& spot : p.spots)
            if (spot.name.ends_with("cheek") || spot.name == "front")
                skin += (skin.empty() ? "" : ", ") + spot.name + " " + stops_text(spot.placed().value);
        if (!skin.empty()) say.push_back(p.mark + ", skin by spot meter, stops over grey: " + skin);
        if (p.background_step)
            say.push_back(p.mark + ": background " + with_error(*p.background_step) + " stops from the key cheek");
    }
    if (sheet.camera)
        for (const WindowInView& w : sheet.camera->windows)
            say.push_back(w.name + ": " + stops_text(w.over_grey.value) + " over grey, " +
                          (w.holds ? "holds"
                                   : "clips (headroom " + stops_text(sheet.camera->headroom) + "); ND " +
                                         fixed(w.nd_to_hold, 2) + " on the glass would hold it"));
    if (!say.empty()) to.push_back(list(say));
}

void add_plan(Blocks& to, const Brief& b, std::size_t i, const BriefLook& look) {
    PlanLook plan;
    plan.units = look.units;
    BriefBlock f;
    f.kind = Block::figures;
    f.figures.push_back({BriefFigure::Kind::plan, i, 0, false, "", plan_in_words(b.setups[i].setup(), plan)});
    to.push_back(heading("Plan"));
    to.push_back(f);
}

void add_rig(Blocks& to, const BriefSetup& s, const BriefLook& look) {
    const Setup& setup = s.setup();
    if (!setup.rig.lamps.empty()) {
        to.push_back(heading("Lamps"));
        BriefBlock t = table({{"lamp", false, false},
                              {"what it is", false, false},
                              {"level", false, false},
                              {"gel", false, false},
                              {"height", true, false},
                              {"aimed at", false, false},
                              {"W", true, false},
                              {"circuit", false, false}});
        for (const Lamp& l : setup.rig.lamps)
            t.table.rows.push_back({l.name, optics_words(l, look), level_text(l.level, l.on),
                                    l.gel_words.empty() ? "–" : l.gel_words, length_text(l.at.z, look.units),
                                    aim_words(setup, l, look), l.watts > 0 ? fixed(l.watts, 0) : "?",
                                    l.circuit.empty() ? "–" : l.circuit});
        to.push_back(t);
    }
    if (setup.rig.panels.empty()) return;
    to.push_back(heading("Boards, flags, cloths, nets"));
    BriefBlock t = table({{"thing", false, false},
                          {"kind", false, false},
                          {"size", false, false},
                          {"made of", false, false},
                          {"middle at", true, false},
                          {"kit", false, false}});
    for (const Panel& p : setup.rig.panels)
        t.table.rows.push_back({p.name, word_of(p.kind), size_text(p.width, p.height, look.units), p.finish.name,
                                length_text(p.at.z, look.units), p.kit_item.empty() ? "–" : p.kit_item});
    to.push_back(t);
}

std::string cloth_text(double reflectance, const std::string& hue) {
    return percent_text(reflectance) + (hue == "neutral" ? "" : ", " + hue);
}

std::string worn_text(const StandIn& who) {
    std::string text = who.shirt ? "a jacket, reflectance " : "cloth, reflectance ";
    text += cloth_text(who.wardrobe, who.wardrobe_hue);
    if (who.shirt) text += ", over a shirt of " + cloth_text(*who.shirt, who.shirt_hue);
    if (who.glasses == Rims::none) return text;
    return text + (who.lenses == Lenses::empty    ? "; rims without glass"
                   : who.lenses == Lenses::coated ? "; glasses with a coat against reflections"
                                                  : "; glasses of bare glass");
}

void add_place(Blocks& to, const BriefSetup& s, const BriefLook& look) {
    const Place& p = s.setup().place;
    to.push_back(heading("Surfaces as modelled"));
    BriefBlock t = table(
        {{"surface", false, false}, {"finish", false, false}, {"reflectance", true, false}, {"gloss", true, false}});
    const auto add = [&](const std::string& name, const Finish& f) {
        t.table.rows.push_back({name, f.name.empty() ? "–" : f.name,
                                percent_text(luminous_share(f.reflectance, Spectrum{1.0F})),
                                f.gloss > 0 ? percent_text(static_cast<double>(f.gloss)) : "–"});
    };
    if (p.has_room)
        for (std::size_t i = 0; i < p.room.finish.size(); ++i) add(full_name(static_cast<Wall>(i)), p.room.finish[i]);
    constexpr std::size_t most = 40;
    for (std::size_t i = 0; i < std::min(most, p.boxes.size()); ++i) add(p.boxes[i].name, p.boxes[i].finish);
    to.push_back(t);
    std::vector<std::string> say;
    for (const Opening& o : p.room.openings)
        say.push_back(o.name + ": " + size_text(o.to - o.from, o.head - o.sill, look.units) +
                      (o.curtain ? ", curtain drawn" : "") + (o.blind ? ", blind" : "") +
                      (o.nd_density > 0 ? ", ND " + fixed(o.nd_density, 1) + " on the glass" : ""));
    for (const Lamp& l : s.setup().rig.lamps)
        if (l.shape == LampShape::ball)
            say.push_back(l.name + ": a lamp all round, may be in shot; " + level_text(l.level, l.on));
    for (const Mark& m : s.setup().rig.marks) say.push_back(m.name + " wears " + worn_text(m.person));
    if (!say.empty()) to.push_back(list(say));
    to.push_back(
        small("Change one by a third and the side that the room fills moves by at least a third of a stop: say so "
              "before anything is painted, dressed or swapped."));
}

void add_power(Blocks& to, const BriefSetup& s) {
    const KitList& k = s.kit;
    if (k.watts <= 0 && k.circuits.empty()) return;
    to.push_back(heading("Power"));
    std::vector<std::string> say;
    if (!k.circuits.empty()) {
        BriefBlock t = table({{"circuit", false, false},
                              {"lamps on it", false, false},
                              {"W", true, false},
                              {"A", true, false},
                              {"of its rating", true, false},
                              {"", false, false}});
        for (const CircuitLoad& c : k.circuits) {
            std::string lamps;
            for (const std::string& l : c.lamps) lamps += (lamps.empty() ? "" : ", ") + l;
            if (c.circuit.other > 0)
                lamps += (lamps.empty() ? "" : ", ") + std::string("other things ") + fixed(c.circuit.other, 0) + " W";
            t.table.rows.push_back({c.circuit.name, lamps.empty() ? "–" : lamps, fixed(c.watts, 0), fixed(c.amps(), 1),
                                    fixed(100 * c.share(), 0) + " % of " + fixed(c.circuit.amps, 0) + " A",
                                    c.share() > 1                 ? "OVERLOADED"
                                    : c.share() > long_load_share ? "over the 80 %"
                                    : !c.unknown.empty()          ? "draw unknown"
                                                                  : ""});
        }
        to.push_back(t);
    }
    if (!k.on_no_circuit.empty()) {
        std::string lamps;
        for (const std::string& l : k.on_no_circuit) lamps += (lamps.empty() ? "" : ", ") + l;
        say.push_back("Not on a circuit yet: " + lamps);
    }
    if (k.watts > 0) say.push_back(fixed(k.watts, 0) + " W for all lamps that are on, counted at full");
    if (!say.empty()) to.push_back(list(say));
    to.push_back(small(
        "80 % of a breaker for long loads is a rule of thumb (common practice, no source), and law in some places "
        "only. Read the breaker, find out what else hangs on it; a licensed electrician decides."));
}

void add_day(Blocks& to, const BriefSetup& s) {
    if (!s.day) return;
    to.push_back(heading("Sun window"));
    std::vector<std::string> say;
    double step = 0;  // h; the plan's own hour parts one of them
    for (std::size_t i = 1; i < s.day->clock.size(); ++i) step = std::max(step, s.day->clock[i] - s.day->clock[i - 1]);
    for (const WeatherCourse& w : s.day->weathers) {
        std::string words = std::string(word_of(w.weather)) + ": ";
        words += w.around_plan.length() > 0 ? "as planned " + between(w.around_plan)
                                            : "the light changes within " + plain(std::round(step * 60)) + " minutes";
        if (w.around_plan.length() > 0 && !w.first_to_go.empty()) words += "; the " + w.first_to_go + " goes first";
        std::vector<Interval> others;
        for (const Interval& i : w.holds)
            if (i.from != w.around_plan.from) others.push_back(i);
        if (!others.empty()) words += "; alike again " + between(others);
        say.push_back(words);
    }
    for (const SunOn& sun : s.day->sun_on)
        if (!sun.when.empty())
            say.push_back("If it shines, sun " +
                          std::string(sun.what == "the lens" ? "in the picture or on the lens" : "on " + sun.what) +
                          " " + between(sun.when));
    for (const ViewHold& h : s.day->view_holds)
        if (h.needed)
            say.push_back(std::string(word_of(h.weather)) + ": the view by the " + h.opening + " lies " +
                          stops_text(h.over_face) + " over " + h.mark + "'s face and clips" +
                          (h.nd_density > 0 ? "; ND " + fixed(h.nd_density, 2) + " on that glass brings it to " +
                                                  stops_text(h.over_face_with_nd)
                                            : ""));
    to.push_back(list(say));
}

void add_options(Blocks& to, const Brief& b, std::size_t i, const BriefLook& look) {
    const BriefSetup& s = b.setups[i];
    if (s.options.front().frame.there()) {
        to.push_back(heading(s.options.size() > 1 ? "Options side by side" : "Try other levels"));
        BriefBlock f;
        f.kind = Block::faders;
        f.setup = i;
        to.push_back(f);
    }
    if (s.options.size() < 2) return;
    std::vector<std::vector<MainNumber>> numbers;
    std::vector<std::string> names;
    for (const BriefOption& o : s.options) {
        numbers.push_back(main_numbers(o.sheet));
        for (const MainNumber& n : numbers.back())
            if (std::find(names.begin(), names.end(), n.name) == names.end()) names.push_back(n.name);
    }
    BriefBlock t = table({{"", false, false}});
    for (const BriefOption& o : s.options) t.table.columns.push_back({o.setup.option, true, false});
    for (const std::string& name : names) {
        std::vector<std::string> row{name};
        for (std::size_t o = 0; o < numbers.size(); ++o) {
            const auto it =
                std::find_if(numbers[o].begin(), numbers[o].end(), [&](const MainNumber& n) { return n.name == name; });
            std::string cell = "–";
            if (it != numbers[o].end()) {
                const MainDifference d = difference(*it, numbers.front());
                cell = o == 0 || !d.known ? said_in(*it, look.units)
                       : is_real(d.stops) ? with_error(d.stops)
                                          : "within noise";
            }
            row.push_back(cell);
        }
        t.table.rows.push_back(row);
    }
    to.push_back(t);
    to.push_back(small("“" + s.setup().option +
                       "” as the meters say it; the others in stops from it, ± one standard error. "
                       "Within noise: less than three errors. All frames at one exposure."));
    BriefBlock plans;
    plans.kind = Block::figures;
    plans.across = 2;
    PlanLook plan;
    plan.units = look.units;
    for (std::size_t o = 1; o < s.options.size(); ++o)
        if (s.options[o].stands_elsewhere)
            plans.figures.push_back({BriefFigure::Kind::plan, i, o, true, s.options[o].setup.option,
                                     plan_in_words(s.options[o].setup, plan)});
    if (plans.figures.empty()) return;
    to.push_back(heading("Where options stand"));
    to.push_back(plans);
}

}  // namespace rushlight::brief_parts
