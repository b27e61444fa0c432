#include "pictures/tables/balance_text.h"

#include "pictures/words/columns.h"
#include "pictures/words/json_value.h"
#include "pictures/words/numbers.h"
#include "pictures/words/utf8.h"
#include "setup/advice/check.h"

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
            : l.after > 0       ? "on"
                                : "off",
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
        reached.cells.push_back(t.reached ? "reached" : "not reached");
    }
    return side_by_side({name, want, before, after, error, off, reached}) +
           "  Proof: everything set this way and traced again with other random numbers; ± and off by in stops.\n";
}

}  // namespace

std::string text(const Balance& b) {
    std::string t;
    for (const std::string& piece : {b.title, b.setup, b.option})
        if (!piece.empty()) t += (t.empty() ? "" : " · ") + piece;
    t += "\n" + std::string(b.all_reached ? "All targets are reached, by the smallest change that does it.\n\n"
                                          : "Not all targets can be reached; this is as near as it gets.\n\n");
    t += settings(b) + "\n" + moves(b) + targets(b);
    for (const TargetResult& r : b.targets)
        if (!r.reached)
            t += wrapped(utf8(code_points(r.name + ", " + r.want + ": " + r.limit + ".")), "  Not reached: ", "    ");
    t += "\n";
    for (const std::string& remark : b.remarks) t += wrapped(utf8(code_points(remark)), "  Note: ", "    ");
    t += "  " + std::string(planning_caution) + "\n  Took " + fixed(b.seconds, 1) + " s.\n";
    return t;
}

std::string json(const Balance& b) {
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
                                  {"reached", t.reached},
                                  {"limit", t.limit.empty() ? Value(nullptr) : json_text(t.limit)}});
    all["all_reached"] = b.all_reached;
    all["remarks"] = Value::array();
    for (const auto& remark : b.remarks) all["remarks"].push_back(json_text(remark));
    all["seconds"] = json_number(b.seconds);
    return written_out(all);
}

}  // namespace rushlight
