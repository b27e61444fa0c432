// The part of a brief about one set-up.
#include "pictures/brief/document.h"
#include "pictures/tables/day_table.h"
#include "pictures/words/numbers.h"
#include "quantity/clock.h"
#include "setup/text/words.h"

#include <algorithm>
#include <cmath>

namespace rushlight::brief_parts {

namespace {

using Block = BriefBlock::Kind;

std::string between(const Interval& i) {
    return clock_text(i.from) + " – " + clock_text(i.to);
}
std::string between(const std::vector<Interval>& all) {
    std::string words;
    for (const Interval& i : all) words += (words.empty() ? "" : ", ") + between(i);
    return words;
}

}  // namespace

void add_maps(Blocks& to, const Brief& b) {
    BriefBlock f;
    f.kind = Block::figures;
    f.across = 2;
    for (std::size_t i = 0; i < b.setups.size(); ++i)
        if (b.setups[i].map)
            f.figures.push_back({BriefFigure::Kind::map, i, 0, name_of(b.setups[i].setup()),
                                 "Light map of set-up " + b.setups[i].setup().name +
                                     ": stops over what the camera's exposure asks for."});
    if (f.figures.empty()) return;
    to.push_back(begin_section("Light maps"));
    to.push_back(small("Stops over what the camera's exposure asks for."));
    to.push_back(f);
}

void add_readings(Blocks& to, const BriefSetup& s, const BriefLook& look) {
    const Sheet& sheet = s.sheet();
    if (sheet.readings.empty()) return;
    to.push_back(heading(name_of(s.setup())));
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
        t.table.rows.push_back(
            {name, f.name.empty() ? "–" : f.name,
             f.pane ? "clear" : percent_text(luminous_share(f.reflectance + f.metal, Spectrum{1.0F})),
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

void add_power(Blocks& to, const Brief& b) {
    if (std::none_of(b.setups.begin(), b.setups.end(),
                     [](const BriefSetup& s) { return s.kit.watts > 0 || !s.kit.circuits.empty(); }))
        return;
    to.push_back(begin_section("Power"));
    BriefBlock t = table({{"set-up", false, false},
                          {"circuit", false, false},
                          {"lamps on it", false, false},
                          {"W", true, false},
                          {"A", true, false},
                          {"of its rating", true, false},
                          {"", false, false}});
    // What several set-ups have alike is said once.
    std::vector<std::pair<std::string, std::string>> notes;  // what, and of which
    const auto note = [&](const BriefSetup& s, const std::string& what) {
        const auto known = std::find_if(notes.begin(), notes.end(), [&](const auto& n) { return n.first == what; });
        if (known == notes.end())
            notes.emplace_back(what, s.setup().name);
        else
            known->second += ", " + s.setup().name;
    };
    for (const BriefSetup& s : b.setups) {
        const KitList& k = s.kit;
        for (const CircuitLoad& c : k.circuits) {
            std::string lamps;
            for (const std::string& l : c.lamps) lamps += (lamps.empty() ? "" : ", ") + l;
            if (c.circuit.other > 0)
                lamps += (lamps.empty() ? "" : ", ") + std::string("other things ") + fixed(c.circuit.other, 0) + " W";
            t.table.rows.push_back({s.setup().name, c.circuit.name, lamps.empty() ? "–" : lamps, fixed(c.watts, 0),
                                    fixed(c.amps(), 1),
                                    fixed(100 * c.share(), 0) + " % of " + fixed(c.circuit.amps, 0) + " A",
                                    c.share() > 1                 ? "OVERLOADED"
                                    : c.share() > long_load_share ? "over the 80 %"
                                    : !c.unknown.empty()          ? "draw unknown"
                                                                  : ""});
        }
        std::string lamps;
        for (const std::string& l : k.on_no_circuit) lamps += (lamps.empty() ? "" : ", ") + l;
        if (!lamps.empty()) note(s, "not on a circuit yet: " + lamps);
        if (k.watts > 0) note(s, fixed(k.watts, 0) + " W for all lamps that are on, counted at full");
    }
    if (!t.table.rows.empty()) to.push_back(t);
    std::vector<std::string> say;
    for (const auto& [what, which] : notes) say.push_back(which + ": " + what);
    if (!say.empty()) to.push_back(list(say));
    to.push_back(small(
        "80 % of a breaker for long loads is a rule of thumb (common practice, no source), and law in some places "
        "only. Read the breaker, find out what else is on it; a licensed electrician decides."));
}

void add_day(Blocks& to, const BriefSetup& s, const BriefLook& look) {
    if (!s.day) return;
    to.push_back(heading(name_of(s.setup()) + ": sun window"));
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
    for (const ViewHold& h : s.day->view_holds) {
        if (!h.needed) continue;
        std::string words = std::string(word_of(h.weather)) + ": the view through the " + h.opening + " is " +
                            stops_text(h.over_face) + " over " + h.mark + "'s face and clips; ";
        if (h.nd_helps())
            words += "ND " + fixed(h.nd_density, 2) + " on that glass brings it to " + stops_text(h.over_face_with_nd);
        else
            words += "it needs " + light_text(h.more_lux, look.units) + " more on the key cheek" +
                     (h.nd_density > 0 ? ", because ND on that glass takes as much off the face" : "");
        say.push_back(words);
    }
    to.push_back(list(say));
}

void add_options(Blocks& to, const Brief& b, std::size_t i, const BriefLook& look) {
    const BriefSetup& s = b.setups[i];
    if (s.options.size() < 2) return;
    to.push_back(begin_section(name_of(s.setup()) + ": options side by side", look.whom == BriefFor::director));
    if (s.options.front().frame.there()) {
        BriefBlock f;
        f.kind = Block::faders;
        f.setup = i;
        to.push_back(f);
    }
    std::vector<std::string> what;
    for (std::size_t o = 1; o < s.options.size(); ++o) {
        std::string words = s.options[o].setup.option + " — ";
        const auto& differs = s.options[o].differs;
        for (std::size_t k = 0; k < differs.size(); ++k) words += (k > 0 ? "; " : "") + differs[k];
        what.push_back(words + (differs.empty() ? "the rig stands as it is" : ""));
    }
    to.push_back(list(what));
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
}

}  // namespace rushlight::brief_parts
