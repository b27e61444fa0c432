#include "pictures/tables/json.h"

#include "pictures/words/json_parts.h"
#include "pictures/words/utf8.h"
#include "quantity/clock.h"
#include "quantity/exposure.h"

#include <cmath>

namespace rushlight {
namespace {

using Value = JsonValue;

Value reading(const Reading& r, const std::vector<std::string>& sources) {
    const bool lit = std::isfinite(r.lux.value) && r.lux.value > 0;
    Value by_source = Value::object();
    for (std::size_t s = 0; s < sources.size() && s < r.by_source.size(); ++s)
        by_source[utf8(code_points(sources[s]))] = json_number(r.by_source[s].value);
    return {{"name", json_text(r.name)},
            {"mark", json_text(r.mark)},
            {"receptor", json_text(r.kind)},
            {"kind", json_text(r.kind)},
            {"side", r.side.empty() ? Value(nullptr) : json_text(r.side)},
            {"lux", json_number(r.lux.value)},
            {"error_lux", json_number(r.lux.error)},
            {"t_stop", lit && r.t_stop > 0 ? json_number(r.t_stop) : Value(nullptr)},
            {"stop", lit && r.t_stop > 0 ? json_number(r.t_stop) : Value(nullptr)},
            {"kelvin", lit && r.kelvin > 0 ? json_number(r.kelvin) : Value(nullptr)},
            {"duv", lit && r.kelvin > 0 ? json_number(r.duv) : Value(nullptr)},
            {"by_source", std::move(by_source)}};
}

Value measured(const Measured& m, const char* value, const char* error) {
    return {{value, json_number(m.value)}, {error, json_number(m.error)}};
}

Value ratio(const Ratio& r) {
    return {{"name", json_text(r.name)},
            {"ratio", json_number(r.ratio)},
            {"stops", json_number(r.stops.value)},
            {"error_stops", json_number(r.stops.error)}};
}

Value texts(const std::vector<std::string>& all) {
    Value list = Value::array();
    for (const std::string& s : all) list.push_back(json_text(s));
    return list;
}

Value optional_number(const std::optional<Measured>& m) {
    return m ? json_number(m->value) : Value(nullptr);
}

Value person(const PersonReadings& p) {
    Value j{{"mark", json_text(p.mark)}, {"in_picture", p.in_picture}};
    j["spots"] = Value::array();
    for (const SpotReading& s : p.spots)
        j["spots"].push_back({{"name", json_text(s.name)},
                              {"cd_m2", json_number(s.luminance.value)},
                              {"error_cd_m2", json_number(s.luminance.error)},
                              {"over_grey_stops", json_number(s.over_grey.value)},
                              {"error_stops", json_number(s.over_grey.error)},
                              {"on_sensor_cd_m2", optional_number(s.on_sensor)},
                              {"on_sensor_over_grey_stops", optional_number(s.over_grey_on_sensor)},
                              {"state", s.state.empty() ? Value(nullptr) : json_text(s.state)}});
    j["not_seen"] = texts(p.not_seen);
    j["key_side"] = p.key_side.empty() ? Value(nullptr) : json_text(p.key_side);
    j["key_source"] = p.key_source.empty() ? Value(nullptr) : json_text(p.key_source);
    j["key_share"] = json_number(p.key_share);
    j["key_to_fill"] = Value::array();
    for (const Ratio& r : p.key_to_fill) j["key_to_fill"].push_back(ratio(r));
    j["background_step"] = p.background_step ? measured(*p.background_step, "stops", "error_stops") : Value(nullptr);
    j["background_step_on_sensor"] =
        p.background_step_on_sensor ? measured(*p.background_step_on_sensor, "stops", "error_stops") : Value(nullptr);
    j["eye_seen"] = p.eye_seen;
    j["eye_lights"] = Value::array();
    for (const EyeLight& e : p.eye_lights)
        j["eye_lights"].push_back({{"source", json_text(e.source)},
                                   {"by", json_text(e.by)},
                                   {"clock", json_number(e.clock)},
                                   {"over_iris_stops", json_number(e.over_iris)}});
    j["glasses"] = Value(nullptr);
    if (p.glasses_seen) {
        j["glasses"] = Value::array();
        for (const GlassesGlare& g : p.glasses_glare)
            j["glasses"].push_back({{"source", json_text(g.source)},
                                    {"by", json_text(g.by)},
                                    {"over_skin_stops", json_number(g.over_skin)},
                                    {"share_of_lens", json_number(g.share)},
                                    {"tilt_to_clear", g.tilt > 0 ? json_number(g.tilt) : Value(nullptr)}});
    }
    j["softness"] = p.softness > 0 ? json_number(p.softness) : Value(nullptr);
    j["shadow_edge_mm"] = p.softness > 0 ? json_number(p.shadow_edge) : Value(nullptr);
    return j;
}

Value camera(const CameraReadings& c) {
    Value j{{"name", json_text(c.name)},
            {"subject", c.subject.empty() ? Value(nullptr) : json_text(c.subject)},
            {"grey_cd_m2", json_number(c.grey)},
            {"metered_lux", json_number(c.metered)},
            {"spot_k_12_5_offset_stops", json_number(over_spot_grey().value)},
            {"headroom_stops", json_number(c.headroom)},
            {"footroom_stops", json_number(c.footroom)},
            {"focus_m", c.focus > 0 ? json_number(c.focus) : Value(nullptr)},
            {"sharp_from_m", json_number(c.sharp_from)},
            {"sharp_to_m", json_number(c.sharp_to)}};
    j["windows"] = Value::array();
    for (const WindowInView& w : c.windows)
        j["windows"].push_back(
            {{"name", json_text(w.name)},
             {"cd_m2", json_number(w.luminance.value)},
             {"error_cd_m2", json_number(w.luminance.error)},
             {"over_grey_stops", json_number(w.over_grey.value)},
             {"on_sensor_cd_m2", optional_number(w.on_sensor)},
             {"over_face_stops", w.over_face ? json_number(w.over_face->value) : Value(nullptr)},
             {"holds", w.holds},
             {"nd_to_hold", w.holds ? Value(nullptr) : json_number(w.nd_to_hold)},
             {"lux_to_hold", w.holds || !(w.lux_to_hold > 0) ? Value(nullptr) : json_number(w.lux_to_hold)}});
    j["mist_lift"] = Value(nullptr);
    if (c.lift)
        j["mist_lift"] = {{"spot", json_text(c.lift->name)},
                          {"stops", json_number(c.lift->stops.value)},
                          {"error_stops", json_number(c.lift->stops.error)}};
    j["lens_lux"] = measured(c.lens_lux, "lux", "error_lux");
    j["into_lens"] = Value::array();
    for (const IntoLens& in : c.into_lens)
        j["into_lens"].push_back(
            {{"source", json_text(in.source)}, {"direct_lux", json_number(in.direct)}, {"in_picture", in.in_picture}});
    return j;
}

Value times(const std::vector<Interval>& all) {
    Value list = Value::array();
    for (const Interval& i : all) list.push_back({clock_text(i.from), clock_text(i.to)});
    return list;
}

Value numbers(const std::vector<double>& all) {
    Value list = Value::array();
    for (const double v : all) list.push_back(json_number(v));
    return list;
}

/// Values and errors under `name` and "error_" + name.
void add_measured(Value& to, const std::string& name, const std::vector<Measured>& all) {
    Value values = Value::array(), errors = Value::array();
    for (const Measured& m : all) {
        values.push_back(json_number(m.value));
        errors.push_back(json_number(m.error));
    }
    to[name] = std::move(values);
    to["error_" + name] = std::move(errors);
}

Value course(const WeatherCourse& w) {
    Value v{{"weather", word_of(w.weather)}, {"holds", times(w.holds)}};
    v["around_plan"] = w.around_plan.length() > 0 ? times({w.around_plan})[0] : Value(nullptr);
    v["first_to_go"] = json_text(w.first_to_go);
    v["cloud_swing_stops"] = json_number(w.cloud_swing);
    v["meters"] = Value::array();
    for (const MeterCourse& m : w.meters) {
        Value one{{"name", json_text(m.name)}, {"mark", json_text(m.mark)}, {"receptor", m.kind}, {"kind", m.kind}};
        add_measured(one, "lux", m.lux);
        one["t_stop"] = numbers(m.t_stop);
        one["stop"] = numbers(m.t_stop);
        one["kelvin"] = numbers(m.kelvin);
        v["meters"].push_back(std::move(one));
    }
    v["faces"] = Value::array();
    for (const FaceCourse& f : w.faces) {
        Value one{{"mark", json_text(f.mark)}, {"in_frame", f.in_frame}};
        add_measured(one, "level", f.level);
        add_measured(one, "key_to_fill", f.key_fill);
        add_measured(one, "key_fill", f.key_fill);
        add_measured(one, "view", f.view);
        one["kelvin"] = numbers(f.kelvin);
        v["faces"].push_back(std::move(one));
    }
    v["view_luminance"] = numbers(w.view_luminance);
    return v;
}

}  // namespace

JsonValue json_of(const DayCourse& d) {
    Value v{{"setup", json_text(d.setup)}, {"option", json_text(d.option)}, {"zone", d.zone}, {"minutes", d.minutes}};
    v["plan"] = clock_text(d.clock[d.plan]);
    v["clock"] = Value::array();
    v["sun"] = Value::array();
    for (std::size_t h = 0; h < d.clock.size(); ++h) {
        v["clock"].push_back(clock_text(d.clock[h]));
        v["sun"].push_back(
            {{"altitude", json_number(d.sun[h].altitude.value)}, {"azimuth", json_number(d.sun[h].azimuth.value)}});
    }
    v["sun_on"] = Value::array();
    for (const SunOn& s : d.sun_on) v["sun_on"].push_back({{"what", json_text(s.what)}, {"when", times(s.when)}});
    v["weathers"] = Value::array();
    for (const WeatherCourse& w : d.weathers) v["weathers"].push_back(course(w));
    v["view"] = Value::array();
    for (const ViewHold& h : d.view_holds)
        v["view"].push_back({{"weather", word_of(h.weather)},
                             {"holds", !h.needed},
                             {"opening", json_text(h.opening)},
                             {"mark", json_text(h.mark)},
                             {"over_face_stops", json_number(h.over_face)},
                             {"headroom_stops", json_number(h.headroom)},
                             {"nd_density", json_number(h.nd_density)},
                             {"over_face_with_nd_stops", json_number(h.over_face_with_nd)},
                             {"face_loss_stops", json_number(h.face_loss)},
                             {"more_lux", json_number(h.more_lux)},
                             {"holds_by_itself", times(h.holds_by_itself)}});
    v["remarks"] = Value::array();
    for (const auto& r : d.remarks) v["remarks"].push_back(json_text(r));
    v["seconds"] = json_number(d.seconds);
    return v;
}

JsonValue json_of(const Sheet& sheet) {
    Value all{
        {"title", json_text(sheet.title)}, {"setup", json_text(sheet.setup)}, {"option", json_text(sheet.option)}};
    all["sources"] = Value::array();
    for (const auto& source : sheet.sources) all["sources"].push_back(json_text(source));
    all["readings"] = Value::array();
    for (const Reading& r : sheet.readings) all["readings"].push_back(reading(r, sheet.sources));
    all["ratios"] = Value::array();
    for (const Ratio& r : sheet.ratios) all["ratios"].push_back(ratio(r));
    all["separations"] = Value::array();
    for (const Separation& s : sheet.separations)
        all["separations"].push_back({{"name", json_text(s.name)},
                                      {"stops", json_number(s.stops.value)},
                                      {"error_stops", json_number(s.stops.error)},
                                      {"least", json_number(s.least)},
                                      {"on_sensor_stops", optional_number(s.stops_on_sensor)}});
    all["people"] = Value::array();
    for (const PersonReadings& p : sheet.people) all["people"].push_back(person(p));
    all["in_shot"] = texts(sheet.in_shot);
    all["camera"] = sheet.camera ? camera(*sheet.camera) : Value(nullptr);
    if (!sheet.against.empty()) {
        all["against"] = json_text(sheet.against);
        all["changes"] = Value::array();
        for (const Change& c : sheet.changes)
            all["changes"].push_back({{"name", json_text(c.name)},
                                      {"stops", json_number(c.stops.value)},
                                      {"error_stops", json_number(c.stops.error)}});
    }
    all["remarks"] = Value::array();
    for (const auto& remark : sheet.remarks) all["remarks"].push_back(json_text(remark));
    all["seconds"] = json_number(sheet.seconds);
    all["wanted_error"] = json_number(sheet.wanted_error);
    return all;
}

JsonValue json_of(const std::vector<ShootingOrder>& orders) {
    Value all = Value::array();
    for (const ShootingOrder& o : orders) {
        Value shots = Value::array();
        for (const Shot& s : o.shots)
            shots.push_back({{"setup", json_text(s.name)},
                             {"from", clock_text(s.from)},
                             {"to", clock_text(s.to)},
                             {"minutes_outside", json_number(s.outside)},
                             {"reason", json_text(s.reason)}});
        all.push_back({{"weather", word_of(o.weather)}, {"exact", o.exact}, {"shots", std::move(shots)}});
    }
    return all;
}

JsonValue json_of(const std::vector<Mismatch>& mismatches) {
    Value all = Value::array();
    for (const Mismatch& m : mismatches)
        all.push_back({{"first", json_text(m.first)},
                       {"second", json_text(m.second)},
                       {"mark", json_text(m.mark)},
                       {"first_time", clock_text(m.first_time)},
                       {"second_time", clock_text(m.second_time)},
                       {"key_to_fill_stops", json_number(m.key_fill)},
                       {"cheeks_stops", json_number(m.key_fill)},
                       {"level_stops", json_number(m.level)},
                       {"kelvin", json_number(m.kelvin)},
                       {"beyond", m.any}});
    return all;
}

std::string json(const Sheet& sheet) {
    return written_out(json_of(sheet));
}

std::string json(const std::vector<DayCourse>& days, const std::vector<ShootingOrder>& orders,
                 const std::vector<Mismatch>& mismatches) {
    Value all{{"title", json_text(days.empty() ? "" : days.front().title)}};
    all["setups"] = Value::array();
    for (const DayCourse& d : days) all["setups"].push_back(json_of(d));
    all["orders"] = json_of(orders);
    all["mismatches"] = json_of(mismatches);
    return written_out(all);
}

}  // namespace rushlight
