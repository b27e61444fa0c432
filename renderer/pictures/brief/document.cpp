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
        if (l.in.size() == b.setups.size() && l.in.size() > 1) in = "all";
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
    for (const double& v : m.model) {
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
                if (&v != &m.model.back() && words.ends_with(" m")) words.resize(words.size() - 2);
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
    to.push_back(text(
        "Before anything is carried in. If the meter disagrees with the model, write its reading into the set-up file "
        "and print these pages again. Within a third of a stop is as good as meters get."));
    if (look.units == BriefUnits::imperial)
        to.push_back(small("The file takes lux: a footcandle is 10.76 lx. Lengths may be typed in feet and inches."));
    BriefBlock t;
    t.kind = Block::table;
    t.table.columns = {{"what, and how", false, false},
                       {"model", true, false},
                       {"found", false, false},
                       {"into the file", false, true}};
    std::vector<std::string> told;  // the same way of measuring is told once
    for (const ToMeasure& m : b.to_measure) {
        std::string words = m.name;
        for (const std::string& sentence : {m.how, m.why}) {
            if (std::find(told.begin(), told.end(), sentence) != told.end()) continue;
            told.push_back(sentence);
            words += (words == m.name ? "\n" : " ") + sentence;
        }
        t.table.rows.push_back({words, model_words(m, look), "", m.file});
    }
    to.push_back(t);
}

void add_cautions(Blocks& to, const Brief& b) {
    to.push_back(begin_section("Cautions"));
    to.push_back(list(b.cautions));
}

/// What a person who reads the pages needs not know: how the numbers were come by.
bool about_the_machine(const std::string& remark) {
    for (const char* word : {"layers", "--fresh", "seed", "cache", "threads", "machine"})
        if (remark.find(word) != remark.npos) return true;
    return false;
}

void add_small_print(Blocks& to, const Brief& b, const BriefLook& look) {
    to.push_back(begin_section("How accurate this is"));
    double worst = 0;
    for (const BriefSetup& s : b.setups)
        for (const BriefOption& o : s.options)
            for (const Reading& r : o.sheet.readings)
                if (r.lux.value > 1) worst = std::max(worst, r.lux.relative_error());
    to.push_back(
        text("Every ± is one standard error; take two numbers as different when they are at least three errors apart. "
             "The least accurate reading is good to " +
             fixed(100 * worst, worst < 0.0995 ? 1 : 0) +
             " %; rough inputs (walls, glass, sky) weigh more. Frames are previews, denoised. Stops count from "
             "incident light on a flat receptor, C = 250; grey is an 18 % card in that light."));
    if (look.whom == BriefFor::director) return;
    std::vector<std::string> items;
    const auto say = [&](const std::string& remark) {
        if (!about_the_machine(remark) && std::find(items.begin(), items.end(), remark) == items.end())
            items.push_back(remark);
    };
    for (const std::string& r : b.remarks) say(r);
    for (const BriefSetup& s : b.setups)
        for (const BriefOption& o : s.options)
            for (const std::string& r : o.sheet.remarks) say(r);
    if (!items.empty()) to.push_back(list(items));
}

}  // namespace

namespace brief_parts {

BriefBlock begin_section(const std::string& words, bool new_page) {
    BriefBlock b;
    b.new_page = new_page;
    b.kind = Block::section;
    b.text = words;
    return b;
}

BriefBlock list(std::vector<std::string> items) {
    BriefBlock b;
    b.kind = Block::list;
    b.items = std::move(items);
    return b;
}

BriefBlock table(std::vector<BriefTable::Column> columns, bool dense) {
    BriefBlock b;
    b.kind = Block::table;
    b.table.columns = std::move(columns);
    b.table.dense = dense;
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

std::string name_of(const Setup& s) {
    return (s.name == as_found_name ? std::string("Set-up") : s.name) +
           (s.option == as_found_name ? "" : " · " + s.option);
}

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
    const auto part = [&](std::initializer_list<F> whose) { return is_for(look.whom, whose); };
    add_cover(d.blocks, b);
    for (std::size_t i = 0; i < b.setups.size(); ++i) {
        add_setup_page(d.blocks, b, i, look);
        // The director turns one leaf for each set-up: its page, and its options on the back.
        if (look.whom == F::director) add_options(d.blocks, b, i, look);
    }
    if (part({F::camera, F::lighting})) add_moves(d.blocks, b, look);
    if (part({F::director, F::camera, F::lighting})) add_cutting(d.blocks, b);
    for (std::size_t i = 0; i < b.setups.size() && part({F::camera, F::lighting}); ++i)
        add_options(d.blocks, b, i, look);
    if (part({F::camera, F::lighting})) {
        if (std::any_of(b.setups.begin(), b.setups.end(), [](const BriefSetup& s) { return s.day.has_value(); }))
            d.blocks.push_back(begin_section("Daylight"));
        for (const BriefSetup& s : b.setups) add_day(d.blocks, s, look);
        d.blocks.push_back(begin_section("Readings"));
        for (const BriefSetup& s : b.setups) add_readings(d.blocks, s, look);
        add_maps(d.blocks, b);
    }
    if (part({F::art}) && !b.setups.empty()) {
        d.blocks.push_back(begin_section("The place"));
        add_place(d.blocks, b.setups.front(), look);
    }
    if (part({F::lighting})) {
        add_power(d.blocks, b);
        add_kit(d.blocks, b);
    }
    add_cautions(d.blocks, b);
    if (part({F::camera, F::lighting})) add_arrival(d.blocks, b, look);
    add_small_print(d.blocks, b, look);
    return d;
}

}  // namespace rushlight
