#include "pictures/brief/document.h"

#include "pictures/words/numbers.h"
#include "quantity/clock.h"
#include "setup/advice/check.h"
#include "setup/plain/catalogues.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace rushlight {

using namespace brief_parts;

namespace {

using Block = BriefBlock::Kind;

BriefBlock begin_section(const std::string& words, bool new_page = false) {
    BriefBlock b;
    b.new_page = new_page;
    b.kind = Block::section;
    b.text = words;
    return b;
}

bool is_for(BriefFor whom, std::initializer_list<BriefFor> these) {
    return whom == BriefFor::all || std::find(these.begin(), these.end(), whom) != these.end();
}

std::string day_words(const Setup& s) {
    if (s.day.dark) return "dark outside";
    constexpr std::array<const char*, 12> months{"January", "February", "March",     "April",   "May",      "June",
                                                 "July",    "August",   "September", "October", "November", "December"};
    const auto month = static_cast<std::size_t>(std::clamp(s.day.month, 1, 12) - 1);
    return std::to_string(s.day.day) + " " + months[month] + " " + std::to_string(s.day.year) + ", " +
           clock_text(s.day.clock_hours) + ", " + sky_words(s.day.sky.cie_type, s.day.sky.sun);
}

std::string elapsed(double hours, double from) {
    const long minutes = std::lround((hours - from) * 60);
    return std::to_string(minutes / 60) + " h " + (minutes % 60 < 10 ? "0" : "") + std::to_string(minutes % 60);
}

void add_order(Blocks& to, const Brief& b) {
    if (b.orders.empty()) return;
    to.push_back(begin_section("Order of the set-ups"));
    for (const ShootingOrder& o : b.orders) {
        const bool by_sky = !b.weathers.empty();
        if (by_sky) to.push_back(heading(std::string("If the sky is ") + word_of(o.weather)));
        BriefBlock t;
        t.kind = Block::table;
        t.table.columns = {{"", true, false},
                           {b.by_the_clock ? "from – to" : "from the start", false, false},
                           {"set-up", false, false},
                           {"min", true, false},
                           {"why there", false, false}};
        const double start = o.shots.empty() ? 0 : o.shots.front().from;
        for (std::size_t i = 0; i < o.shots.size(); ++i) {
            const Shot& s = o.shots[i];
            t.table.rows.push_back(
                {std::to_string(i + 1),
                 b.by_the_clock ? clock_text(s.from) + " – " + clock_text(s.to) : elapsed(s.from, start), s.name,
                 fixed((s.to - s.from) * 60, 0), s.reason});
        }
        to.push_back(t);
        if (!by_sky) break;
    }
    to.push_back(small(
        "Minutes are the file's. The order weighs people's hours first, then sun windows, turn-arounds, and heavy "
        "before light; common practice, no source. A sun window is the time within which level and key to fill stay "
        "within a third of a stop of the plan, and colour within 200 K."));
    std::vector<std::string> apart;
    for (const Mismatch& m : b.mismatches)
        if (m.any)
            apart.push_back(m.mark + ", " + m.first + " at " + clock_text(m.first_time) + " against " + m.second +
                            " at " + clock_text(m.second_time) + ": cheeks " + stops_text(m.key_fill) +
                            " stops, level " + stops_text(m.level) + ", " + (m.kelvin < 0 ? "−" : "+") +
                            fixed(std::abs(m.kelvin), 0) + " K");
    if (apart.empty()) return;
    to.push_back(heading("What would not cut together in that order"));
    BriefBlock list;
    list.kind = Block::list;
    list.items = apart;
    to.push_back(list);
}

void add_matches(Blocks& to, const Brief& b) {
    for (const Match& m : b.matches) {
        std::vector<std::string> off;
        for (const MatchRow& r : m.rows)
            if (r.known && !r.matches())
                off.push_back(r.name + ": off by " +
                              (r.unit == "stops" ? stops_text(r.apart.value) : fixed(r.apart.value, 0)) + " " + r.unit +
                              ", tolerance " + fixed(r.allowed, r.unit == "stops" ? 2 : 0) +
                              (r.unsure() ? " (could be chance)" : ""));
        to.push_back(heading("Two sides: " + m.here + " and " + m.there));
        if (off.empty()) {
            to.push_back(text("They match in everything that was read."));
            continue;
        }
        BriefBlock list;
        list.kind = Block::list;
        list.items = off;
        to.push_back(list);
    }
}

void add_kit(Blocks& to, const Brief& b) {
    if (b.kit.empty()) return;
    to.push_back(begin_section("Kit: used and still free"));
    BriefBlock t;
    t.kind = Block::table;
    t.table.columns = {{"thing", false, false},
                       {"most at once", true, false},
                       {"owned", true, false},
                       {"free", true, false},
                       {"in", false, false}};
    for (const BriefKitLine& l : b.kit) {
        std::string in;
        for (const std::string& s : l.in) in += (in.empty() ? "" : ", ") + s;
        const bool is_short = l.owned && l.free() < 0;
        t.table.rows.push_back({l.name, std::to_string(l.most), l.owned ? std::to_string(*l.owned) : "not counted",
                                !l.owned   ? "–"
                                : is_short ? std::to_string(-l.free()) + " SHORT"
                                           : std::to_string(l.free()),
                                in.empty() ? "lies in the van" : in});
    }
    to.push_back(t);
    to.push_back(small(b.kit_owned
                           ? "Set-ups are shot one after the other, so the most that one of them takes is what must "
                             "be there. Options other than the planned one are not counted."
                           : "No kit file is named, so nobody knows what is owned: write kit = \"my-kit.toml\" at "
                             "the top of the set-up file."));
}

std::string model_words(const ToMeasure& m, const BriefLook& look) {
    std::string words;
    for (const double v : m.model) {
        if (!words.empty()) words += " × ";
        switch (m.unit) {
            case ToMeasure::Unit::lux:
                words += m.error > 0 ? light_text(v, m.error, look.units) : light_text(v, look.units);
                break;
            case ToMeasure::Unit::stops:
                words += stops_text(v) + " stops";
                break;
            case ToMeasure::Unit::metre:
                words += length_text(v, look.units);
                break;
            case ToMeasure::Unit::degree:
                words += fixed(v, 0) + "° from north";
                break;
        }
    }
    return words;
}

void add_arrival(Blocks& to, const Brief& b, const BriefLook& look) {
    if (b.to_measure.empty()) return;
    to.push_back(begin_section("On arrival: measure, then correct the model"));
    to.push_back(
        text("Before anything is carried in. Where the meter says otherwise than the model, write what it says into "
             "the set-up file and ask for these pages again. Within a third of a stop is as good as meters are."));
    if (look.units == BriefUnits::imperial)
        to.push_back(small("The file takes lux: a footcandle is 10.76 lx. Lengths may be typed in feet and inches."));
    BriefBlock t;
    t.kind = Block::table;
    t.table.columns = {{"what, and how", false, false},
                       {"model", true, false},
                       {"found", false, false},
                       {"into the file", false, true}};
    for (const ToMeasure& m : b.to_measure)
        t.table.rows.push_back({m.name + "\n" + m.how + " " + m.why, model_words(m, look), "", m.file});
    to.push_back(t);
}

void add_cautions(Blocks& to, const Brief& b) {
    to.push_back(begin_section("Cautions"));
    BriefBlock list;
    list.kind = Block::list;
    list.items = b.cautions;
    to.push_back(list);
}

void add_small_print(Blocks& to, const Brief& b) {
    to.push_back(begin_section("How accurate this is"));
    double worst = 0;
    for (const BriefSetup& s : b.setups)
        for (const BriefOption& o : s.options)
            for (const Reading& r : o.sheet.readings)
                if (r.lux.value > 1) worst = std::max(worst, r.lux.relative_error());
    to.push_back(text("Traced in " + fixed(b.seconds, 0) +
                      " s. Every ± is one standard error; two numbers differ for certain "
                      "when they lie some three errors apart. The least sure reading is good to " +
                      fixed(100 * worst, worst < 0.0995 ? 1 : 0) +
                      " % of chance; rough inputs (walls, glass, sky) weigh more. " +
                      "Frames are previews: their noise is taken out for looking. Stops "
                      "count from incident light on a flat receptor, C = 250; grey is an 18 % card in that light."));
    BriefBlock list;
    list.kind = Block::list;
    for (const std::string& r : b.remarks) list.items.push_back(r);
    for (const BriefSetup& s : b.setups)
        for (const BriefOption& o : s.options)
            for (const std::string& r : o.sheet.remarks)
                if (std::find(list.items.begin(), list.items.end(), r) == list.items.end()) list.items.push_back(r);
    if (!list.items.empty()) to.push_back(list);
}

void add_setup(Blocks& to, const Brief& b, std::size_t i, const BriefLook& look) {
    const BriefSetup& s = b.setups[i];
    const Setup& setup = s.setup();
    to.push_back(begin_section((setup.name == as_found_name ? std::string("Set-up") : setup.name) +
                                   (setup.option == as_found_name ? "" : " · " + setup.option),
                               true));
    std::string facts = day_words(setup) + " · " + fixed(setup.minutes, 0) + " min";
    if (const Camera* c = setup.its_camera())
        facts += " · camera “" + c->name + "”, " + fixed(c->lens, 0) + " mm, T" + fixed(c->exposure.t_stop, 1) +
                 ", ISO " + fixed(c->exposure.iso, 0) + ", " + fixed(c->exposure.frames_per_second, 0) + " fps at " +
                 fixed(c->exposure.shutter_angle, 0) + "°, " + fixed(c->white_balance, 0) + " K" +
                 (c->exposure.nd_density > 0 ? ", ND " + fixed(c->exposure.nd_density, 1) : "");
    to.push_back(small(facts));
    for (const std::string& note : setup.notes) to.push_back(text(note));
    using F = BriefFor;
    add_pictures(to, b, i);
    if (is_for(look.whom, {F::director, F::camera, F::lighting})) add_targets(to, s);
    if (is_for(look.whom, {F::director, F::camera, F::lighting})) add_day(to, s);
    if (is_for(look.whom, {F::camera, F::lighting})) add_readings(to, s, look);
    add_plan(to, b, i, look);
    if (is_for(look.whom, {F::lighting, F::camera})) add_rig(to, s, look);
    if (is_for(look.whom, {F::lighting})) add_power(to, s);
    if (is_for(look.whom, {F::director, F::camera, F::lighting})) add_options(to, b, i, look);
}

}  // namespace

namespace brief_parts {

BriefBlock heading(const std::string& words) {
    BriefBlock b;
    b.kind = Block::heading;
    b.text = words;
    return b;
}

BriefBlock text(const std::string& words) {
    BriefBlock b;
    b.text = words;
    return b;
}

BriefBlock small(const std::string& words) {
    BriefBlock b;
    b.kind = Block::small;
    b.text = words;
    return b;
}

}  // namespace brief_parts

const std::vector<BriefForWord>& brief_for_words() {
    static const std::vector<BriefForWord> words{{BriefFor::all, "all", "For everybody"},
                                                 {BriefFor::director, "director", "For the director"},
                                                 {BriefFor::camera, "camera", "For camera"},
                                                 {BriefFor::lighting, "lighting", "For lighting and grip"},
                                                 {BriefFor::art, "art", "For the art department"}};
    return words;
}

BriefDocument brief_document(const Brief& b, const BriefLook& look) {
    BriefDocument d;
    d.title = b.title.empty() ? "Lighting brief" : b.title;
    for (const BriefForWord& w : brief_for_words())
        if (w.whom == look.whom) d.whom = w.title;
    if (!b.setups.empty()) {
        const Setup& s = b.setups.front().setup();
        d.subtitle = (s.place.name.empty() ? "" : s.place.name + " · ") + day_words(s);
    }
    BriefBlock caution;
    caution.kind = Block::caution;
    caution.text = std::string(planning_caution) +
                   " Local codes, the building's owner, licensed electricians and trained "
                   "riggers decide.";
    d.blocks.push_back(caution);
    using F = BriefFor;
    add_order(d.blocks, b);
    if (is_for(look.whom, {F::director, F::camera})) add_matches(d.blocks, b);
    for (std::size_t i = 0; i < b.setups.size(); ++i) add_setup(d.blocks, b, i, look);
    if (is_for(look.whom, {F::art}) && !b.setups.empty()) {
        d.blocks.push_back(begin_section("The place"));
        add_place(d.blocks, b.setups.front(), look);
    }
    if (is_for(look.whom, {F::lighting})) add_kit(d.blocks, b);
    if (is_for(look.whom, {F::camera, F::lighting})) add_arrival(d.blocks, b, look);
    add_cautions(d.blocks, b);
    add_small_print(d.blocks, b);
    return d;
}

}  // namespace rushlight
