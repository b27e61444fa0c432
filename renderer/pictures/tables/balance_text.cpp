#include "pictures/tables/balance_text.h"

#include "pictures/words/columns.h"
#include "pictures/words/json_value.h"
#include "pictures/words/numbers.h"
#include "pictures/words/utf8.h"
#include "setup/advice/check.h"

#include <algorithm>
#include <cmath>

namespace rushlight {
namespace {

using Value = JsonValue;

std::string level_text(double level) {
    if (level <= 0) return "off";
    return fixed(100 * level, level < 0.0995 ? 1 : 0) + " %";
}

std::string settings(const Balance& b) {
    Column name{"Set", true, {}}, before{"as found", false, {}}, after{"to", false, {}}, change{"change", false, {}},
        gel{"gel", true, {}};
    const auto row = [&](const std::string& n, const std::string& from, const std::string& to, const std::string& by,
                         const std::string& with) {
        name.cells.push_back(cut_to(n, 40));
        before.cells.push_back(from);
        after.cells.push_back(to);
        change.cells.push_back(by);
        gel.cells.push_back(with);
    };
    for (const LampSetting& l : b.lamps) {
        const double by = std::log2(l.after / l.before);
        const bool stays = l.before == l.after;
        row(l.lamp, level_text(l.before), level_text(l.after),
            stays               ? "stays"
            : std::isfinite(by) ? stops_text(by) + " stops"
            : l.after > 0       ? "switch it on"
                                : "switch it off",
            l.gel.empty() ? "" : "add " + l.gel);
    }
    if (b.nd > 0) row("ND on all windows", "", fixed(b.nd, 1), "−" + fixed(b.nd / std::log10(2.0), 0) + " stops", "");
    if (b.stop_after > 0) {
        const double by = -2 * std::log2(b.stop_after / b.stop_before);
        row("camera's stop", t_stop_text(b.stop_before), t_stop_text(b.stop_after),
            std::abs(by) < 0.01 ? "stays" : stops_text(by) + " stops", "");
    }
    return side_by_side({name, before, after, change, gel});
}

std::string moves(const Balance& b) {
    std::string t;
    for (const MovedThing& m : b.moves)
        t += "  Move " + cut_to(m.name, 40) + " by " + fixed(static_cast<double>((m.to - m.from).length()), 2) +
             " m, from " + point_text(m.from) + " to " + point_text(m.to) + ".\n";
    return t.empty() ? t : t + "\n";
}

std::string targets(const Balance& b) {
    Column name{"Target", true, {}}, want{"wanted", true, {}}, before{"as found", false, {}},
        after{"as set", false, {}}, error{"±", false, {}}, off{"off by", false, {}}, reached{"", true, {}};
    for (const TargetResult& t : b.targets) {
        name.cells.push_back(cut_to(t.name, 34));
        want.cells.push_back(cut_to(t.want, 26));
        before.cells.push_back(t.shown_before);
        after.cells.push_back(t.shown_after);
        error.cells.push_back(t.colour ? "" : fixed(t.after.error, 2));
        const double by = t.after.value - t.wanted;
        off.cells.push_back(t.colour ? fixed(by, 0) + " mired" : (by < 0 ? "−" : "+") + fixed(std::abs(by), 2));
        reached.cells.push_back(t.cannot_tell ? "too little traced to tell" : t.reached ? "reached" : "not reached");
    }
    return side_by_side({name, want, before, after, error, off, reached}) +
           "  Proof: everything set this way and traced again with other random numbers; ± and off by in stops.\n";
}

/// In what is wrapped, it stands in the sentence as it is.
std::string in_sentence(const std::string& words) {
    return utf8(code_points(words));
}

}  // namespace

std::string text(const MissingLamp& m) {
    const std::string what = std::string(m.job == LampJob::eye ? "an " : "a ") + word_of(m.job) + " for " + m.person;
    if (m.lamp.kit_item.empty()) return wrapped(in_sentence(what + ": " + m.trouble + "."), "  Missing: ", "    ");
    const LampPlace& p = m.place;
    std::string said = what + ". " + m.lamp.kit_item + (p.on_arm ? ", on an arm, at " : ", on a stand, at ") +
                       point_text(p.at) + ", " + fixed(p.distance, 1) + " m from " + m.person + " and " +
                       fixed(p.up, 0) + "° up, at " + level_text(m.lamp.level);
    if (const auto by = dimmed_by_nd(m.lamp.level))
        said += " (or nd " + fixed(by->density, 1) + " on it and " + level_text(by->level) + ")";
    said += ".";
    if (m.over_iris) said += " It shows in the eyes, " + fixed(*m.over_iris, 1) + " stops over the iris.";
    if (m.job == LampJob::hair && m.flag_it_off_the_lens()) said += " Its light reaches the lens: flag it off.";
    if (m.job != LampJob::eye && !m.brings_it) said += " It is the best the kit has, and not enough.";
    if (!m.trouble.empty()) said += " " + m.trouble + ".";
    return wrapped(in_sentence(said), "  Missing: ", "    ");
}

std::string text(const Balance& b, const std::string& lines) {
    std::string t;
    for (const std::string& piece : {b.title, b.setup, b.option})
        if (!piece.empty()) t += (t.empty() ? "" : " · ") + piece;
    const bool nothing = b.nd == 0 && b.moves.empty() && std::abs(b.stop_after - b.stop_before) < 1e-3 &&
                         std::none_of(b.lamps.begin(), b.lamps.end(), [](const LampSetting& l) { return l.changed(); });
    t +=
        "\n" + std::string(!b.all_reached ? "Not all targets can be reached; this is as near as it gets without losing "
                                            "those that are met.\n\n"
                           : b.cannot_tell ? "Too little was traced to tell whether all targets are reached.\n\n"
                           : nothing       ? "All targets are met as it stands; nothing has to change.\n\n"
                                           : "All targets reached, with the smallest change that does it.\n\n");
    t += settings(b) + "\n" + moves(b) + targets(b);
    for (const TargetResult& r : b.targets)
        if (!r.reached)
            t += wrapped(utf8(code_points(r.name + ", " + r.want + ": " + r.limit + ".")), "  Not reached: ", "    ");
    for (const MissingLamp& m : b.missing) t += text(m);
    if (b.with_those)
        t += "\n  With what is missing" +
             std::string(b.with_those->all_reached && !b.with_those->cannot_tell ? ", all targets are reached:" : ":") +
             "\n\n" + settings(*b.with_those) + "\n" + targets(*b.with_those);
    if (!lines.empty()) {
        t += lines.rfind("[[option]]", 0) == 0
                 ? std::string("\n  Lines to keep it, for the end of the file (or --append NAME):\n\n")
                 : "\n  Lines to keep it, in option \"" + cut_to(b.option, 40) +
                       "\" in place of its values for these:\n\n";
        for (std::size_t from = 0; from < lines.size();) {
            const std::size_t to = lines.find('\n', from);
            t += "    " + lines.substr(from, to - from) + "\n";
            from = to + 1;
        }
    }
    t += "\n";
    for (const std::string& remark : b.remarks) t += wrapped(utf8(code_points(remark)), "  Note: ", "    ");
    t += "  " + std::string(planning_caution) + "\n  Took " + fixed(b.seconds, 1) + " s.\n";
    return t;
}

namespace {

Value written_value(const Balance& b) {
    Value all{{"title", json_text(b.title)}, {"setup", json_text(b.setup)}, {"option", json_text(b.option)}};
    all["lamps"] = Value::array();
    for (const LampSetting& l : b.lamps)
        all["lamps"].push_back({{"lamp", json_text(l.lamp)},
                                {"before", json_number(l.before)},
                                {"after", json_number(l.after)},
                                {"gel", l.gel.empty() ? Value(nullptr) : json_text(l.gel)}});
    all["moves"] = Value::array();
    const auto place = [](const Vec3& p) {
        return Value{json_number(static_cast<double>(p.x)), json_number(static_cast<double>(p.y)),
                     json_number(static_cast<double>(p.z))};
    };
    for (const MovedThing& m : b.moves)
        all["moves"].push_back({{"name", json_text(m.name)}, {"from", place(m.from)}, {"to", place(m.to)}});
    all["nd"] = json_number(b.nd);
    all["t_stop_before"] = b.stop_before > 0 ? json_number(b.stop_before) : Value(nullptr);
    all["t_stop"] = b.stop_after > 0 ? json_number(b.stop_after) : Value(nullptr);
    all["stop_before"] = b.stop_before > 0 ? json_number(b.stop_before) : Value(nullptr);
    all["stop"] = b.stop_after > 0 ? json_number(b.stop_after) : Value(nullptr);
    all["targets"] = Value::array();
    for (const TargetResult& t : b.targets)
        all["targets"].push_back({{"reading", json_text(t.name)},
                                  {"want", json_text(t.want)},
                                  {"unit", t.colour ? "mired" : "stops"},
                                  {"wanted", json_number(t.wanted)},
                                  {"within", json_number(t.within)},
                                  {"before", json_number(t.before.value)},
                                  {"reckoned", json_number(t.reckoned)},
                                  {"after", json_number(t.after.value)},
                                  {"error", json_number(t.after.error)},
                                  {"said_before", json_text(t.shown_before)},
                                  {"said_after", json_text(t.shown_after)},
                                  {"reached", t.cannot_tell ? Value() : Value(t.reached)},
                                  {"limit", t.limit.empty() ? Value(nullptr) : json_text(t.limit)}});
    all["missing"] = Value::array();
    for (const MissingLamp& m : b.missing) {
        Value one{{"job", word_of(m.job)}, {"person", json_text(m.person)}};
        if (!m.trouble.empty()) one["trouble"] = json_text(m.trouble);
        if (!m.lamp.kit_item.empty()) {
            one["lamp"] = json_text(m.lamp.name);
            one["like"] = json_text(m.lamp.kit_item);
            one["at"] = place(m.place.at);
            one["aim"] = place(m.place.aimed_at);
            one["level"] = json_number(m.lamp.level);
            one["distance"] = json_number(m.place.distance);
            one["on_arm"] = m.place.on_arm;
            one["flag_it_off_the_lens"] = m.flag_it_off_the_lens();
            one["brings_it"] = m.brings_it;
        }
        all["missing"].push_back(std::move(one));
    }
    all["with_missing"] = b.with_those ? written_value(*b.with_those) : Value(nullptr);
    all["all_reached"] = b.all_reached;
    all["remarks"] = Value::array();
    for (const auto& remark : b.remarks) all["remarks"].push_back(json_text(remark));
    all["seconds"] = json_number(b.seconds);
    return all;
}

}  // namespace

std::string json(const Balance& b, const std::string& lines) {
    Value all = written_value(b);
    all["lines"] = lines.empty() ? Value(nullptr) : json_text(lines);
    return written_out(all);
}

}  // namespace rushlight
