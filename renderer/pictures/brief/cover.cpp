// The first page of a brief, with the frames and the order to shoot in; and the page of what moves in between.
#include "pictures/brief/document.h"
#include "pictures/plan/plan.h"
#include "pictures/words/numbers.h"
#include "quantity/clock.h"

#include <algorithm>
#include <cmath>

namespace rushlight::brief_parts {

namespace {

using Block = BriefBlock::Kind;

std::string elapsed(double hours, double from) {
    const long minutes = std::lround((hours - from) * 60);
    return std::to_string(minutes / 60) + " h " + (minutes % 60 < 10 ? "0" : "") + std::to_string(minutes % 60);
}

/// The few numbers under a small frame: of whom it shows.
std::string caption_of(const BriefSetup& s) {
    const Sheet& sheet = s.sheet();
    std::string whose = sheet.camera ? sheet.camera->subject : "";
    if (whose.empty() && !sheet.people.empty()) whose = sheet.people.front().mark;
    std::string words = name_of(s.setup());
    for (const Reading& r : sheet.readings)
        if (r.mark == whose && r.side == "key" && r.t_stop > 0) words += " · " + t_stop_text(r.t_stop);
    for (const Ratio& r : sheet.ratios)
        if (!whose.empty() && r.name.rfind(whose + " cheeks", 0) == 0) words += " · " + ratio_text(r.ratio);
    for (const Separation& x : sheet.separations)
        if (x.mark == whose) words += " · hair " + stops_text(x.stops.value);
    return words;
}

std::vector<std::size_t> shooting(const Brief& b) {
    std::vector<std::size_t> all;
    if (!b.orders.empty())
        for (const Shot& shot : b.orders.front().shots) all.push_back(shot.number);
    if (all.size() != b.setups.size()) {
        all.resize(b.setups.size());
        for (std::size_t i = 0; i < all.size(); ++i) all[i] = i;
    }
    return all;
}

void add_order(Blocks& to, const Brief& b) {
    if (b.orders.empty()) return;
    to.push_back(begin_section("Order of the set-ups"));
    if (b.by_the_clock)
        to.push_back(small("Work from " + clock_text(b.hours.from) + " to " + clock_text(b.hours.to) +
                           (b.hours_given ? "."
                                          : ": nobody gave the hours; write hours = [\"09:00\", \"18:00\"] at the "
                                            "top of the file.")));
    for (const ShootingOrder& o : b.orders) {
        const bool by_sky = !b.weathers.empty();
        if (by_sky) to.push_back(heading(std::string("If the sky is ") + word_of(o.weather)));
        BriefBlock t = table({{"", true, false},
                              {b.by_the_clock ? "from – to" : "from the start", false, false},
                              {"set-up", false, false},
                              {"min", true, false},
                              {"why there", false, false}});
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
        "Minutes are the file's. People's hours come first, then sun windows, then turn-arounds, then heavy before "
        "light; common practice, no source. A sun window is the time within which level and key to fill stay "
        "within a third of a stop of the plan, and colour within 200 K."));
}

void add_mismatches(Blocks& to, const Brief& b) {
    std::vector<std::string> apart;
    for (const Mismatch& m : b.mismatches)
        if (m.any)
            apart.push_back(m.mark + ", " + m.first + " at " + clock_text(m.first_time) + " against " + m.second +
                            " at " + clock_text(m.second_time) + ": cheeks " + stops_text(m.key_fill) +
                            " stops, level " + stops_text(m.level) + ", " + (m.kelvin < 0 ? "−" : "+") +
                            fixed(std::abs(m.kelvin), 0) + " K");
    if (apart.empty()) return;
    to.push_back(heading("In the order of page 1"));
    to.push_back(list(apart));
}

void add_matches(Blocks& to, const Brief& b) {
    for (const Match& m : b.matches) {
        std::vector<std::string> off;
        for (const MatchRow& r : m.rows)
            if (r.known && !r.matches())
                off.push_back(r.name + ": off by " +
                              (r.unit == "stops" ? stops_text(r.apart.value) : fixed(r.apart.value, 0)) +
                              (r.unit.empty() ? "" : " " + r.unit) + ", tolerance " +
                              fixed(r.allowed, r.unit == "stops" ? 2 : 0) + (r.unsure() ? " (could be chance)" : ""));
        to.push_back(heading("Two sides: " + m.here + " and " + m.there));
        to.push_back(off.empty() ? text("They match in everything that was read.") : list(off));
    }
}

template <class T>
const T* of_name(const std::vector<T>& things, const std::string& name) {
    const auto it = std::find_if(things.begin(), things.end(), [&](const T& t) { return t.name == name; });
    return it == things.end() ? nullptr : &*it;
}

bool apart(const Vec3& a, const Vec3& b) {
    return (a - b).length() > 0.01F;
}

std::string place_words(const Setup& s, const Vec3& at, const BriefLook& look) {
    const std::string walls = from_walls(s, at, look.units);
    return (walls.empty() ? "" : walls + ", ") + length_text(at.z, look.units) + " high";
}

/// One row: what is done to a thing on the way from one set-up to the next.
using Rows = std::vector<std::vector<std::string>>;

void lamp_moves(Rows& rows, const Setup& was, const Setup& is, const BriefLook& look) {
    for (const Lamp& l : is.rig.lamps) {
        const Lamp* before = of_name(was.rig.lamps, l.name);
        std::string words;
        const auto say = [&](const std::string& w) { words += (words.empty() ? "" : "; ") + w; };
        if (!before) say("in: " + place_words(is, l.at, look) + "; " + level_text(l.level, l.on));
        if (before && apart(before->at, l.at)) say("to " + place_words(is, l.at, look));
        if (before && !apart(before->at, l.at) && before->aimed_at && l.aimed_at &&
            apart(*before->aimed_at, *l.aimed_at))
            say("aim again");
        if (before && (before->on != l.on || std::abs(before->level - l.level) > 1e-6)) say(level_text(l.level, l.on));
        if (before ? before->gel_words != l.gel_words : !l.gel_words.empty())
            say(l.gel_words.empty() ? "gel off" : l.gel_words);
        if (!words.empty()) rows.push_back({l.name, words});
    }
    for (const Lamp& l : was.rig.lamps)
        if (!of_name(is.rig.lamps, l.name)) rows.push_back({l.name, "away"});
}

void panel_moves(Rows& rows, const Setup& was, const Setup& is, const BriefLook& look) {
    for (const Panel& p : is.rig.panels) {
        const Panel* before = of_name(was.rig.panels, p.name);
        const std::string made = size_text(p.width, p.height, look.units) + " " + p.finish.name;
        if (!before)
            rows.push_back({p.name, "in: " + made + ", " + place_words(is, p.at, look)});
        else if (apart(before->at, p.at))
            rows.push_back({p.name, "to " + place_words(is, p.at, look)});
        else if (apart(before->facing, p.facing))
            rows.push_back({p.name, "turn it"});
        else if (before->finish.name != p.finish.name)
            rows.push_back({p.name, "now " + made});
    }
    for (const Panel& p : was.rig.panels)
        if (!of_name(is.rig.panels, p.name)) rows.push_back({p.name, "away"});
}

void other_moves(Rows& rows, const Setup& was, const Setup& is, const BriefLook& look) {
    for (const Mark& m : is.rig.marks) {
        const Mark* before = of_name(was.rig.marks, m.name);
        if (!before || apart(before->at, m.at)) rows.push_back({m.name, "to " + from_walls(is, m.at, look.units)});
    }
    const Camera *c = is.its_camera(), *before = was.its_camera();
    if (c == nullptr) return;
    std::string words;
    if (!before || apart(before->at, c->at)) words = "to " + place_words(is, c->at, look);
    if (!before || before->lens != c->lens) words += (words.empty() ? "" : "; ") + fixed(c->lens, 0) + " mm";
    if (before && before->exposure.t_stop != c->exposure.t_stop)
        words += (words.empty() ? "" : "; ") + t_stop_text(c->exposure.t_stop);
    if (!words.empty()) rows.push_back({"camera", words});
}

}  // namespace

void add_cover(Blocks& to, const Brief& b) {
    // One set-up alone begins with its own page.
    if (b.setups.size() < 2) return;
    BriefBlock frames;
    frames.kind = Block::figures;
    frames.fills = true;
    for (const std::size_t i : shooting(b))
        if (b.setups[i].options.front().frame.there())
            frames.figures.push_back({BriefFigure::Kind::frame, i, 0, caption_of(b.setups[i]),
                                      "Frame of set-up " + b.setups[i].setup().name + "."});
    frames.across = frames.figures.size() < 2 ? 1 : frames.figures.size() > 4 ? 3 : 2;
    if (!frames.figures.empty()) to.push_back(frames);
    add_order(to, b);
}

void add_cutting(Blocks& to, const Brief& b) {
    const bool apart = std::any_of(b.mismatches.begin(), b.mismatches.end(), [](const Mismatch& m) { return m.any; });
    if (!apart && b.matches.empty()) return;
    to.push_back(begin_section("What cuts together, and what does not"));
    add_mismatches(to, b);
    add_matches(to, b);
}

void add_moves(Blocks& to, const Brief& b, const BriefLook& look) {
    const std::vector<std::size_t> order = shooting(b);
    if (order.size() < 2) return;
    to.push_back(begin_section("What moves between set-ups", true));
    BriefBlock t = table({{"to", false, false}, {"what", false, false}, {"do", false, false}}, true);
    for (std::size_t k = 1; k < order.size(); ++k) {
        const Setup &was = b.setups[order[k - 1]].setup(), &is = b.setups[order[k]].setup();
        Rows rows;
        lamp_moves(rows, was, is, look);
        panel_moves(rows, was, is, look);
        other_moves(rows, was, is, look);
        if (rows.empty()) rows.push_back({"–", "nothing moves"});
        for (std::size_t r = 0; r < rows.size(); ++r)
            t.table.rows.push_back({r == 0 ? is.name : "", rows[r][0], rows[r][1]});
    }
    to.push_back(t);
    to.push_back(small("In the order of page 1, from “" + b.setups[order.front()].setup().name +
                       "” on. What is not named stays as it is."));
}

}  // namespace rushlight::brief_parts
