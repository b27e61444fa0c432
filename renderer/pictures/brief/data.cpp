#include "pictures/brief/data.h"

#include "pictures/tables/day_table.h"
#include "pictures/words/json_parts.h"
#include "pictures/words/numbers.h"
#include "quantity/clock.h"
#include "setup/plain/face.h"

#include <cmath>

namespace rushlight {

namespace {

using Value = JsonValue;

Value texts(const std::vector<std::string>& all) {
    Value list = Value::array();
    for (const std::string& s : all) list.push_back(json_text(s));
    return list;
}

Value point(const Vec3& p) {
    const auto rounded = [](float v) { return std::round(1e4 * static_cast<double>(v)) / 1e4; };
    return Value::array({rounded(p.x), rounded(p.y), rounded(p.z)});
}

Value known(const std::string& words) {
    return words.empty() ? Value(nullptr) : json_text(words);
}

Value lamp(const Rig& rig, const Lamp& l) {
    const Mark* m = lit_mark(rig, l);
    return {{"name", json_text(l.name)},
            {"at", point(l.at)},
            {"aim", point(l.aim)},
            {"level", json_number(l.on ? l.level : 0)},
            {"gel", known(l.gel_words)},
            {"like", known(l.kit_item)},
            {"watts", l.watts > 0 ? json_number(l.watts) : Value(nullptr)},
            {"circuit", known(l.circuit)},
            {"lights", m != nullptr ? json_text(m->name) : Value(nullptr)},
            {"metres_to_it",
             m != nullptr ? json_number(static_cast<double>((face_of(*m) - l.at).length())) : Value(nullptr)}};
}

Value panel(const Panel& p) {
    return {{"name", json_text(p.name)},      {"kind", word_of(p.kind)},       {"at", point(p.at)},
            {"facing", point(p.facing)},      {"width", json_number(p.width)}, {"height", json_number(p.height)},
            {"finish", known(p.finish.name)}, {"like", known(p.kit_item)}};
}

Value uses(const std::vector<KitUse>& all) {
    Value list = Value::array();
    for (const KitUse& u : all)
        list.push_back({{"name", json_text(u.name)},
                        {"used", u.used},
                        {"owned", u.owned ? Value(*u.owned) : Value(nullptr)},
                        {"short_by", u.short_by()},
                        {"things", texts(u.things)}});
    return list;
}

Value circuits(const KitList& k) {
    Value list = Value::array();
    for (const CircuitLoad& c : k.circuits)
        list.push_back({{"name", json_text(c.circuit.name)},
                        {"volts", json_number(c.circuit.volts)},
                        {"rated_amps", json_number(c.circuit.amps)},
                        {"watts", json_number(c.watts)},
                        {"amps", json_number(c.amps())},
                        {"share_of_rating", json_number(c.share())},
                        {"over_long_load_share", c.share() > long_load_share},
                        {"lamps", texts(c.lamps)},
                        {"draw_not_known", texts(c.unknown)}});
    return list;
}

Value targets(const BriefSetup& s) {
    Value list = Value::array();
    for (const TargetCheck& c : s.targets)
        list.push_back({{"name", json_text(c.name)},
                        {"want", json_text(c.want)},
                        {"there", json_text(c.said)},
                        {"unit", c.colour ? "mired" : "stops"},
                        {"value", json_number(c.value.value)},
                        {"error", json_number(c.value.error)},
                        {"wanted", json_number(c.wanted)},
                        {"within", json_number(c.within)},
                        {"reached", c.cannot_tell ? Value() : Value(c.reached)}});
    return list;
}

Value setup_value(const BriefSetup& s) {
    const Setup& setup = s.setup();
    Value v{{"setup", json_text(setup.name)},
            {"planned", json_text(setup.option)},
            {"minutes", json_number(setup.minutes)}};
    v["needs"] = texts(setup.needs);
    v["notes"] = texts(setup.notes);
    v["targets"] = targets(s);
    v["lamps"] = Value::array();
    for (const Lamp& l : setup.rig.lamps) v["lamps"].push_back(lamp(setup.rig, l));
    v["panels"] = Value::array();
    for (const Panel& p : setup.rig.panels) v["panels"].push_back(panel(p));
    v["kit"] = {{"items", uses(s.kit.items)},
                {"parts", uses(s.kit.parts)},
                {"of_no_item", texts(s.kit.of_no_item)},
                {"of_the_place", texts(s.kit.of_the_place)}};
    v["watts"] = json_number(s.kit.watts);
    v["circuits"] = circuits(s.kit);
    v["not_on_a_circuit"] = texts(s.kit.on_no_circuit);
    v["plugged_in_nowhere"] = v["not_on_a_circuit"];  // its earlier name, for one version
    v["day"] = s.day ? json_of(*s.day) : Value(nullptr);
    v["options"] = Value::array();
    for (const BriefOption& o : s.options) v["options"].push_back(json_of(o.sheet));
    return v;
}

const char* unit_of(ToMeasure::Unit u) {
    constexpr const char* words[] = {"lx", "stops", "m", "degrees"};
    return words[static_cast<int>(u)];
}

/// Rows with commas between.
class Rows {
public:
    std::string text = "set-up,option,what,name,value,unit,error,words\r\n";
    void add(const Setup* s, const char* what, const std::string& name, double value, const char* unit,
             double error = NAN, const std::string& words = "", int decimals = 4) {
        text += (s != nullptr ? csv_cell(s->name) + "," + csv_cell(s->option) : std::string(",")) + "," + what + "," +
                csv_cell(name) + "," + csv_number(value, decimals) + "," + unit + "," + csv_number(error, 4) + "," +
                csv_cell(words) + "\r\n";
    }
};

}  // namespace

std::string brief_json(const Brief& b, const std::vector<std::string>& files) {
    Value all{{"made_by", "rushlight brief"}, {"files", texts(files)}, {"title", json_text(b.title)}};
    all["setups"] = Value::array();
    for (const BriefSetup& s : b.setups) all["setups"].push_back(setup_value(s));
    all["orders"] = json_of(b.orders);
    all["mismatches"] = json_of(b.mismatches);
    all["matches"] = Value::array();
    for (const Match& m : b.matches) all["matches"].push_back(json_of(m));
    all["kit"] = Value::array();
    for (const BriefKitLine& l : b.kit)
        all["kit"].push_back({{"name", json_text(l.name)},
                              {"part", l.is_part},
                              {"most_at_once", l.most},
                              {"owned", l.owned ? Value(*l.owned) : Value(nullptr)},
                              {"free", l.owned ? Value(l.free()) : Value(nullptr)},
                              {"in", texts(l.in)}});
    all["to_measure"] = Value::array();
    for (const ToMeasure& m : b.to_measure) {
        Value model = Value::array();
        for (const double v : m.model) model.push_back(json_number(v));
        all["to_measure"].push_back({{"name", json_text(m.name)},
                                     {"how", json_text(m.how)},
                                     {"unit", unit_of(m.unit)},
                                     {"model", std::move(model)},
                                     {"error", m.error > 0 ? json_number(m.error) : Value(nullptr)},
                                     {"into_the_file", m.file}});
    }
    all["cautions"] = texts(b.cautions);
    all["remarks"] = texts(b.remarks);
    all["seconds"] = json_number(b.seconds);
    return written_out(all, 1);
}

std::vector<std::string> files_of_brief(const std::string& json) {
    const Value j = Value::parse(json, nullptr, false);
    std::vector<std::string> files;
    if (!j.is_object() || j.value("made_by", Value()) != "rushlight brief" || !j.contains("files")) return files;
    for (const Value& name : j["files"])
        if (name.is_string()) files.push_back(name.get<std::string>());
    return files;
}

std::string brief_csv(const Brief& b) {
    Rows rows;
    for (const BriefSetup& s : b.setups) {
        for (const BriefOption& o : s.options) {
            for (const Reading& r : o.sheet.readings)
                rows.add(&o.setup, "reading", r.name, r.lux.value, "lx", r.lux.error,
                         r.lux.value > 0 ? t_stop_text(r.t_stop) : no_light);
            for (const Ratio& r : o.sheet.ratios)
                rows.add(&o.setup, "ratio", r.name, r.stops.value, "stops", r.stops.error, ratio_text(r.ratio));
            for (const Separation& x : o.sheet.separations)
                rows.add(&o.setup, "separation", x.name, x.stops.value, "stops", x.stops.error);
        }
        const Setup* planned = &s.setup();
        for (const TargetCheck& t : s.targets)
            rows.add(planned, "target", t.name, t.value.value, t.colour ? "mired" : "stops", t.value.error,
                     t.want +
                         (t.cannot_tell ? ": too little traced to tell, "
                          : t.reached   ? ": reached, "
                                        : ": missed, ") +
                         t.said);
        for (const Lamp& l : planned->rig.lamps)
            rows.add(planned, "lamp level", l.name, l.on ? l.level : 0, "share", NAN, l.gel_words);
        for (const Lamp& l : planned->rig.lamps)
            rows.add(planned, "lamp height", l.name, l.at.z, "m", NAN, l.kit_item, 2);
        for (const Panel& p : planned->rig.panels)
            rows.add(planned, "panel height", p.name, p.at.z, "m", NAN, p.finish.name, 2);
        for (const auto* uses : {&s.kit.items, &s.kit.parts})
            for (const KitUse& u : *uses)
                rows.add(planned, "kit used", u.name, u.used, "", NAN, u.owned ? "of " + std::to_string(*u.owned) : "",
                         0);
        for (const CircuitLoad& c : s.kit.circuits)
            rows.add(planned, "circuit", c.circuit.name, c.watts, "W", NAN,
                     fixed(c.amps(), 1) + " A of " + fixed(c.circuit.amps, 0) + " A", 0);
        if (s.day)
            for (const WeatherCourse& w : s.day->weathers)
                if (w.around_plan.length() > 0)
                    rows.add(planned, "sun window", word_of(w.weather), w.around_plan.length() * 60, "min", NAN,
                             clock_text(w.around_plan.from) + " to " + clock_text(w.around_plan.to), 0);
    }
    for (const ShootingOrder& o : b.orders)
        for (std::size_t i = 0; i < o.shots.size(); ++i)
            rows.add(&b.setups[o.shots[i].number].setup(), "order", word_of(o.weather), static_cast<double>(i + 1), "",
                     NAN, o.shots[i].reason, 0);
    for (const ToMeasure& m : b.to_measure)
        for (const double v : m.model)
            rows.add(nullptr, "measure", m.name, v, unit_of(m.unit), m.error > 0 ? m.error : NAN);
    return rows.text;
}

}  // namespace rushlight
