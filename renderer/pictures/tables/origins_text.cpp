#include "pictures/tables/origins_text.h"

#include "pictures/words/columns.h"
#include "pictures/words/json_value.h"
#include "pictures/words/numbers.h"
#include "pictures/words/utf8.h"
#include "setup/advice/check.h"
#include "setup/text/words.h"

#include <cmath>

namespace rushlight {
namespace {

using Value = JsonValue;

// Sources that give less than this are summed up.
constexpr double least_shown = 0.005;

std::string loss_text(double part, double whole) {
    const double stops = stops_without(part, whole);
    return std::isfinite(stops) ? stops_text(-stops) : "all of it";
}

void add_row(std::vector<Column>& table, const std::string& name, const Measured& lux, double whole) {
    table[0].cells.push_back(cut_to(name, 48));
    table[1].cells.push_back(lux_text(lux.value));
    table[2].cells.push_back(lux_error_text(lux.value, lux.error));
    table[3].cells.push_back(percent_text(lux.value / whole));
    table[4].cells.push_back(loss_text(lux.value, whole));
}

std::vector<Column> empty_table(const std::string& what) {
    return {
        {what, true, {}}, {"lux", false, {}}, {"±", false, {}}, {"share", false, {}}, {"stops without it", false, {}}};
}

std::string place_text(const BestPlace& b, const std::string& point) {
    const Panel& p = b.panel;
    const std::string kind = b.wish.black ? "flag" : "board";
    std::string t = std::string(b.wish.black ? "Black cloth " : "White board ") + fixed(p.width, 2) + " x " +
                    fixed(p.height, 2) + " m, best within " + plain(b.wish.reach) + " m of " + point + ":\n";
    t += "  " + stops_text(b.traced.value) + " stops ± " + fixed(b.traced.error, 2) +
         " with it put in and traced (from the sphere: " + stops_text(b.estimate) + ")\n";
    t += "  It stands " + fixed(b.distance, 2) + " m off and fills " + percent_text(b.covered) +
         " of what the meter weighs";
    if (b.wish.black)
        t += "; of an even surround a perfectly black one would take " + stops_text(b.even_bound) + " stops";
    t += ".\n  " + std::to_string(b.possible) + " of " + std::to_string(b.tried) +
         " places tried are inside the room, clear of everything, out of frame and not blocking a lamp.\n";
    t += "  To keep it:\n    [[option]]\n    name = \"" + std::string(b.wish.black ? "black" : "board") + " for " +
         point + "\"\n    [[option.add." + kind + "]]\n    name = \"" + std::string(b.wish.black ? "black" : "board") +
         " for " + point + "\"\n    at = " + point_text(p.at) + "\n    facing = " + point_text(p.at + p.facing) +
         "\n    size = [" + fixed(p.width, 2) + ", " + fixed(p.height, 2) + "]\n";
    return t;
}

Value point_value(const Vec3& p) {
    return Value::array({p.x, p.y, p.z});
}
Value part(const std::string& name, const Measured& lux, double whole) {
    return {{"name", json_text(name)},
            {"lux", json_number(lux.value)},
            {"error_lux", json_number(lux.error)},
            {"share", json_number(lux.value / whole)},
            {"stops", json_number(stops_without(lux.value, whole))}};
}

}  // namespace

std::string text(const Origins& o, std::span<const BestPlace> places) {
    std::string t;
    for (const std::string& piece : {o.title, o.setup, o.option})
        if (!piece.empty()) t += (t.empty() ? "" : " · ") + piece;
    t += "\nWhat lights " + o.point + ": " + lux_text(o.lux.value) + " lx";
    if (o.lux.value > 0) t += " ± " + lux_error_text(o.lux.value, o.lux.error) + ", " + t_stop_text(o.t_stop);
    t += "\n\n";
    if (o.lux.value > 0) {
        auto sources = empty_table("By source");
        for (std::size_t s = 0; s < o.sources.size(); ++s) add_row(sources, o.sources[s], o.by_source[s], o.lux.value);
        auto surfaces = empty_table("By the surface it left last");
        Measured rest;
        int small = 0;
        for (const Origin& origin : o.surfaces) {
            if (origin.lux.value >= least_shown * o.lux.value) {
                add_row(surfaces, origin.name, origin.lux, o.lux.value);
                continue;
            }
            rest.value += origin.lux.value;
            rest.error = std::hypot(rest.error, origin.lux.error);
            ++small;
        }
        if (small > 0)
            add_row(surfaces, std::to_string(small) + " more, each under half a per cent", rest, o.lux.value);
        t += side_by_side(sources) + "\n" + side_by_side(surfaces) +
             "  Light that came straight through glass, a net or a cloth counts as coming from there.\n";
    }
    for (const BestPlace& b : places) t += "\n" + place_text(b, o.point);
    if (!places.empty()) t += "  " + std::string(planning_caution) + "\n";
    if (!o.remarks.empty() || o.seconds > 0) t += "\n";
    for (const std::string& remark : o.remarks) t += wrapped(utf8(code_points(remark)), "  Note: ", "    ");
    if (o.seconds > 0) t += "  Took " + fixed(o.seconds, 1) + " s.\n";
    return t;
}

std::string json(const Origins& o, std::span<const BestPlace> places) {
    Value all{{"title", json_text(o.title)},
              {"setup", json_text(o.setup)},
              {"option", json_text(o.option)},
              {"point", json_text(o.point)},
              {"lux", json_number(o.lux.value)},
              {"error_lux", json_number(o.lux.error)},
              {"t_stop", o.t_stop > 0 ? json_number(o.t_stop) : Value(nullptr)},
              {"stop", o.t_stop > 0 ? json_number(o.t_stop) : Value(nullptr)}};
    all["by_source"] = Value::array();
    for (std::size_t s = 0; s < o.sources.size(); ++s)
        all["by_source"].push_back(part(o.sources[s], o.by_source[s], o.lux.value));
    all["surfaces"] = Value::array();
    for (const Origin& origin : o.surfaces) {
        Value one = part(origin.name, origin.lux, o.lux.value);
        one["by_source"] = Value::object();
        for (std::size_t s = 0; s < o.sources.size(); ++s)
            one["by_source"][utf8(code_points(o.sources[s]))] = json_number(origin.by_source[s]);
        all["surfaces"].push_back(std::move(one));
    }
    all["places"] = Value::array();
    for (const BestPlace& b : places)
        all["places"].push_back({{"panel", b.wish.black ? "black" : "white"},
                                 {"size", Value::array({b.panel.width, b.panel.height})},
                                 {"at", point_value(b.panel.at)},
                                 {"facing", point_value(b.panel.facing)},
                                 {"distance", json_number(b.distance)},
                                 {"covered", json_number(b.covered)},
                                 {"estimate_stops", json_number(b.estimate)},
                                 {"even_bound_stops", json_number(b.even_bound)},
                                 {"stops", json_number(b.traced.value)},
                                 {"error_stops", json_number(b.traced.error)}});
    all["remarks"] = Value::array();
    for (const auto& remark : o.remarks) all["remarks"].push_back(json_text(remark));
    all["seconds"] = json_number(o.seconds);
    return written_out(all);
}

}  // namespace rushlight
