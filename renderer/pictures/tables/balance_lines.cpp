#include "pictures/tables/balance_lines.h"

#include "setup/edit/toml_text.h"
#include "setup/plain/catalogues.h"
#include "setup/text/words.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>

namespace rushlight {

namespace {

std::string quoted(const std::string& text) {
    return written(NewValue{text});
}

std::string number(double value, int decimals) {
    const double whole = std::pow(10.0, decimals);
    return plain(std::round(value * whole) / whole);
}

std::string point(const Vec3& p) {
    constexpr int centimetres = 2;
    return "[" + number(static_cast<double>(p.x), centimetres) + ", " + number(static_cast<double>(p.y), centimetres) +
           ", " + number(static_cast<double>(p.z), centimetres) + "]";
}

std::string percent(double level) {
    return "\"" + number(100 * level, 1) + "%\"";
}

/// A gel as it is called ("half orange", "-20 mired, 0.5 stops") in TOML.
std::string gel_value(const std::string& words) {
    if (kind_named(gel_kinds(), words)) return quoted(words);
    std::string table;
    for (std::size_t from = 0; from < words.size();) {
        const std::size_t to = std::min(words.find(", ", from), words.size());
        const std::string part = words.substr(from, to - from);
        const std::size_t space = part.find(' ');
        table += (table.empty() ? "" : ", ") + part.substr(space + 1) + " = " + part.substr(0, space);
        from = to + 2;
    }
    return "{ " + table + " }";
}

std::string gels_value(const std::string& standing, const std::string& added) {
    std::string list;
    for (std::size_t from = 0; from < standing.size();) {
        const std::size_t to = std::min(standing.find(" + ", from), standing.size());
        list += gel_value(standing.substr(from, to - from)) + ", ";
        from = to + 3;
    }
    return list.empty() ? gel_value(added) : "[" + list + gel_value(added) + "]";
}

std::string change(const std::string& kind, const std::string& name, const std::string& values) {
    return values.empty() ? "" : "change." + kind + "." + written_key(name) + " = { " + values + " }\n";
}

void add(std::string& values, const std::string& key, const std::string& value) {
    values += (values.empty() ? "" : ", ") + key + " = " + value;
}

const MovedThing* moved_thing(const Balance& b, const std::string& name) {
    const auto m = std::find_if(b.moves.begin(), b.moves.end(), [&](const MovedThing& t) { return t.name == name; });
    return m == b.moves.end() ? nullptr : &*m;
}

std::string changes_of_lamps(const Setup& in_file, const Balance& b) {
    std::string text;
    for (const Lamp& lamp : in_file.rig.lamps) {
        std::string values;
        const auto set =
            std::find_if(b.lamps.begin(), b.lamps.end(), [&](const LampSetting& l) { return l.lamp == lamp.name; });
        if (set != b.lamps.end()) {
            const bool on = lamp.on && lamp.level > 0;
            if (set->after <= 0 && on) add(values, "on", "false");
            if (set->after > 0 && !lamp.on) add(values, "on", "true");
            if (set->after > 0 && std::abs(set->after - lamp.level) > 5e-4) add(values, "level", percent(set->after));
            if (!set->gel.empty()) add(values, "gel", gels_value(lamp.gel_words, set->gel));
        }
        if (const MovedThing* m = moved_thing(b, lamp.name)) add(values, "at", point(m->to));
        text += change("lamp", lamp.name, values);
    }
    return text;
}

std::string lamp_lines(const MissingLamp& m, const Balance& b) {
    if (!m.trouble.empty()) return "";
    double level = m.lamp.level;
    std::string gel;
    for (const LampSetting& l : b.lamps)
        if (l.lamp == m.lamp.name) level = l.after, gel = l.gel;
    if (level <= 0) return "";
    std::string text = "[[option.add.lamp]]\n";
    text += "name = " + quoted(m.lamp.name) + "\n";
    text += "like = " + quoted(m.lamp.kit_item) + "\n";
    text += "at = " + point(m.lamp.at) + "\n";
    text += "aim = " + (m.job == LampJob::hair ? point(m.place.aimed_at) : quoted(m.person)) + "\n";
    if (level < 1) text += "level = " + percent(level) + "\n";
    if (!gel.empty()) text += "gel = " + gels_value(m.lamp.gel_words, gel) + "\n";
    return text;
}

}  // namespace

std::string option_lines(const Setup& in_file, const Balance& without, const std::string& name, bool of_setup) {
    const Balance& b = without.with_those ? *without.with_those : without;
    std::string changes = changes_of_lamps(in_file, b);
    for (const Panel& p : in_file.rig.panels)
        if (const MovedThing* m = moved_thing(b, p.name))
            changes += change(word_of(p.kind), p.name, "at = " + point(m->to));
    if (b.nd > 0) {
        for (const Opening& o : in_file.place.room.openings)
            changes += change("opening", o.name, "nd = " + number(o.nd_density + b.nd, 2));
        for (const OpeningPatch& o : in_file.place.model_openings)
            changes +=
                "# by hand, in [place.model] surfaces: " + o.name + ", nd = " + number(o.nd_density + b.nd, 2) + "\n";
    }
    if (const Camera* camera = in_file.its_camera())
        if (b.stop_after > 0 && std::abs(2 * std::log2(b.stop_after / camera->exposure.t_stop)) > 0.01)
            changes += change("camera", camera->name, "t_stop = " + number(b.stop_after, 2));
    std::string lamps;
    for (const MissingLamp& m : without.missing) lamps += lamp_lines(m, b);
    if (changes.empty() && lamps.empty()) return "";
    if (in_file.option != as_found_name) return changes + lamps;
    std::string text = "[[option]]\nname = " + quoted(name) + "\n";
    if (of_setup) text += "setups = [" + quoted(in_file.name) + "]\n";
    return text + changes + lamps;
}

}  // namespace rushlight
