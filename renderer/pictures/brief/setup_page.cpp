// The page of a set-up that a gaffer pins up: what it looks like, the numbers it is judged by, what stands where.
#include "pictures/brief/document.h"
#include "pictures/plan/plan.h"
#include "pictures/words/numbers.h"
#include "setup/plain/face.h"

#include <algorithm>
#include <cmath>

namespace rushlight::brief_parts {

namespace {

using Block = BriefBlock::Kind;

std::string frame_words(const BriefOption& o) {
    std::string words = "Frame of set-up " + o.setup.name + ", " + o.setup.option + ".";
    for (const MainNumber& n : main_numbers(o.sheet)) words += " " + n.name + " " + n.said + ".";
    return words;
}

/// A head that shines one way leans: by how much, and to whom.
std::string aim_words(const Setup& s, const Lamp& l, const BriefLook& look) {
    std::string words;
    if (l.shape != LampShape::ball && l.shape != LampShape::tube) {
        const double down = -degrees(std::asin(std::clamp(static_cast<double>(l.aim.z), -1.0, 1.0))).value;
        words = fixed(std::abs(down), 0) + "° " + (down >= 0 ? "down" : "up");
    }
    if (const Mark* m = lit_mark(s.rig, l))
        return m->name + ", " + length_text((face_of(*m) - l.at).length(), look.units) +
               (words.empty() ? "" : ", " + words);
    return words.empty() ? "all round" : words;
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

std::string or_dash(const std::string& words) {
    return words.empty() ? "–" : words;
}

/// What the camera is set to, on one line.
std::string camera_words(const Setup& setup) {
    std::string facts = day_words(setup) + " · " + fixed(setup.minutes, 0) + " min";
    if (const Camera* c = setup.its_camera())
        facts += " · camera “" + c->name + "”, " + fixed(c->lens, 0) + " mm, T" + fixed(c->exposure.t_stop, 1) +
                 ", ISO " + fixed(c->exposure.iso, 0) + ", " + fixed(c->exposure.frames_per_second, 0) + " fps at " +
                 fixed(c->exposure.shutter_angle, 0) + "°, " + fixed(c->white_balance, 0) + " K" +
                 (c->exposure.nd_density > 0 ? ", ND " + fixed(c->exposure.nd_density, 1) : "");
    return facts;
}

BriefBlock key_numbers(const BriefSetup& s, const BriefLook& look) {
    constexpr std::size_t most = 12;
    BriefBlock t = table({{"key numbers", false, false}, {"", true, false}}, true);
    const Sheet& sheet = s.sheet();
    for (const MainNumber& n : main_numbers(sheet)) {
        if (t.table.rows.size() >= most) break;
        t.table.rows.push_back({n.name, said_in(n, look.units)});
    }
    for (const PersonReadings& p : sheet.people)
        if (p.in_picture && p.background_step)
            t.table.rows.push_back(
                {p.mark + " background vs key cheek", stops_text(p.background_step->value) + " stops"});
    if (sheet.camera)
        for (const WindowInView& w : sheet.camera->windows)
            t.table.rows.push_back({w.name + " over grey",
                                    stops_text(w.over_grey.value) +
                                        (w.holds ? ", holds" : ", clips; ND " + fixed(w.nd_to_hold, 2) + " holds it")});
    for (const std::string& name : sheet.in_shot) t.table.rows.push_back({name, "IN SHOT"});
    return t;
}

/// Columns that say nothing in any row take no room.
void drop_empty_columns(BriefTable& t) {
    for (std::size_t c = t.columns.size(); c-- > 1;) {
        const auto says_nothing = [&](const std::vector<std::string>& row) { return row[c] == "–"; };
        if (!std::all_of(t.rows.begin(), t.rows.end(), says_nothing)) continue;
        t.columns.erase(t.columns.begin() + static_cast<std::ptrdiff_t>(c));
        for (auto& row : t.rows) row.erase(row.begin() + static_cast<std::ptrdiff_t>(c));
    }
}

void add_targets(Blocks& to, const BriefSetup& s) {
    if (s.targets.empty()) return;
    BriefBlock t =
        table({{"target", false, false}, {"wanted", false, false}, {"there", true, false}, {"", false, false}}, true);
    for (const TargetCheck& c : s.targets) {
        std::string verdict = c.cannot_tell ? "too little traced to tell" : "reached";
        if (!c.reached && std::isfinite(c.off))
            verdict = (c.colour ? fixed(std::abs(c.off), 0) + " mired " : fixed(std::abs(c.off), 1) + " stops ") +
                      (c.colour ? (c.off > 0 ? "too warm" : "too cool") : (c.off > 0 ? "too bright" : "too dark"));
        else if (!c.reached)
            verdict = "no light";
        t.table.rows.push_back({c.name, c.want, c.said, verdict});
    }
    to.push_back(t);
}

void add_rig(Blocks& to, const BriefSetup& s, const BriefLook& look) {
    const Setup& setup = s.setup();
    if (!setup.rig.lamps.empty()) {
        BriefBlock t = table({{"lamp", false, false},
                              {"what it is", false, false},
                              {"level", false, false},
                              {"gel", false, false},
                              {"stand", false, false},
                              {"height", true, false},
                              {"from walls", false, false},
                              {"aimed at", false, false}},
                             true);
        for (const Lamp& l : setup.rig.lamps)
            t.table.rows.push_back({l.name, optics_words(l, look), level_text(l.level, l.on), or_dash(l.gel_words),
                                    or_dash(s.stand_of(l.name)), length_text(l.at.z, look.units),
                                    or_dash(from_walls(setup, l.at, look.units)), aim_words(setup, l, look)});
        drop_empty_columns(t.table);
        to.push_back(t);
    }
    if (setup.rig.panels.empty()) return;
    BriefBlock t = table({{"shaper", false, false},
                          {"kind", false, false},
                          {"size", false, false},
                          {"made of", false, false},
                          {"stand", false, false},
                          {"middle at", true, false},
                          {"from walls", false, false}},
                         true);
    for (const Panel& p : setup.rig.panels)
        t.table.rows.push_back({p.name, word_of(p.kind), size_text(p.width, p.height, look.units), p.finish.name,
                                or_dash(s.stand_of(p.name)), length_text(p.at.z, look.units),
                                or_dash(from_walls(setup, p.at, look.units))});
    drop_empty_columns(t.table);
    to.push_back(t);
}

}  // namespace

std::string said_in(const MainNumber& n, BriefUnits units) {
    const auto lux = n.said.find("  ");
    if (units == BriefUnits::metric || !n.said.ends_with(" lx") || lux == std::string::npos) return n.said;
    return n.said.substr(0, lux) + "  " + light_text(std::exp2(n.stops.value), units);
}

void add_setup_page(Blocks& to, const Brief& b, std::size_t i, const BriefLook& look) {
    const BriefSetup& s = b.setups[i];
    const Setup& setup = s.setup();
    to.push_back(begin_section(name_of(setup), b.setups.size() > 1));
    to.push_back(small(camera_words(setup)));
    for (const std::string& note : setup.notes) to.push_back(text(note));
    BriefBlock numbers = key_numbers(s, look);
    if (s.options.front().frame.there()) {
        numbers.kind = Block::beside;
        numbers.figures.push_back({BriefFigure::Kind::frame, i, 0, "", frame_words(s.options.front())});
    }
    if (numbers.kind == Block::beside || !numbers.table.rows.empty()) to.push_back(numbers);
    using F = BriefFor;
    if (is_for(look.whom, {F::director, F::camera, F::lighting})) add_targets(to, s);
    if (is_for(look.whom, {F::camera, F::lighting})) add_rig(to, s, look);
    PlanLook plan;
    plan.units = look.units;
    BriefBlock f;
    f.kind = Block::figures;
    f.figures.push_back({BriefFigure::Kind::plan, i, 0, "", plan_in_words(setup, plan)});
    to.push_back(f);
    if (s.options.size() > 1 || !s.options.front().frame.there()) return;
    BriefBlock faders;
    faders.kind = Block::faders;
    faders.setup = i;
    to.push_back(faders);
}

}  // namespace rushlight::brief_parts
