#include "desk/sheet_json.h"

#include "desk/bare.h"
#include "setup/words.h"

#include <algorithm>
#include <cstdio>
#include <cstdlib>

namespace rushlight::desk {

JsonValue short_number(double v) {
    if (!std::isfinite(v)) return nullptr;
    char text[32];
    std::snprintf(text, sizeof text, "%.5g", v);
    return std::strtod(text, nullptr);
}

JsonValue bands_json(const Spectrum& s) {
    JsonValue list = JsonValue::array();
    for (const float band : s.band) list.push_back(short_number(static_cast<double>(band)));
    return list;
}

const char* kind_of_source(const Setup& setup, const std::string& source) {
    const auto& lamps = setup.rig.lamps;
    if (std::any_of(lamps.begin(), lamps.end(), [&](const Lamp& l) { return l.name == source; })) return "lamp";
    return source == "sun" ? "sun" : "sky";
}

std::string trouble_json(const std::string& line) {
    return JsonValue{{"line", json_text(line)}}.dump();
}

namespace {

JsonValue source_json(const Looker& l, const std::string& name, const Spectrum& now) {
    JsonValue j{{"name", json_text(name)}, {"kind", kind_of_source(l.asked, name)}, {"now", bands_json(now)}};
    const auto& lamps = l.asked.rig.lamps;
    const auto lamp = std::find_if(lamps.begin(), lamps.end(), [&](const Lamp& one) { return one.name == name; });
    j["lamp"] = nullptr;
    if (lamp == lamps.end()) return j;
    j["lamp"] = json_text(name);
    j["on"] = lamp->on;
    j["level"] = short_number(lamp->level);
    j["kelvin"] = short_number(lamp->kelvin);
    j["gel"] = JsonValue::array();
    const auto written = l.lamps.find(name);
    for (const char* key : {"level", "gel"}) {
        j[std::string(key) + "_text"] = "";
        if (written == l.lamps.end()) continue;
        const auto value = written->second.values.find(key);
        if (value == written->second.values.end()) continue;
        j[std::string(key) + "_text"] = json_text(value->second.text);
        if (key == std::string("gel"))
            for (const std::string& gel : value->second.names) j["gel"].push_back(json_text(tidy(gel)));
    }
    return j;
}

/// The brighter of two cheeks is the key's.
std::string side_of(const std::vector<HeldMeter>& meters, const std::vector<Measured>& all, std::size_t m) {
    constexpr std::size_t ahead = 1;
    const auto is = [&](std::size_t i, const char* what) {
        return i < meters.size() && meters[i].meter.name == meters[i].meter.mark + " " + what && all[i].value > 0;
    };
    if (is(m, "near cheek") && is(m + ahead, "far cheek")) return all[m].value >= all[m + ahead].value ? "key" : "fill";
    if (m >= ahead && is(m, "far cheek") && is(m - ahead, "near cheek"))
        return all[m].value > all[m - ahead].value ? "key" : "fill";
    return "";
}

JsonValue separations_json(const Looker& l, const std::vector<Spectrum>& now) {
    JsonValue list = JsonValue::array();
    if (!l.outline_light || l.outline_light->stages() == 0) return list;
    for (const OutlineMeters& o : l.outlines) {
        const Measured stops = l.outline_light->stops(o.on, o.behind, now);
        if (!std::isfinite(stops.value)) continue;
        list.push_back({{"name", json_text(o.name)},
                        {"mark", json_text(l.asked.rig.marks.at(o.mark).name)},
                        {"stops", short_number(stops.value)},
                        {"error_stops", short_number(stops.error)}});
    }
    return list;
}

}  // namespace

JsonValue sheet_json(const Looker& l) {
    const std::vector<std::string>& sources = l.light->scene->lights.sources();
    const std::vector<Spectrum> now = now_of_bare(l.asked, sources);
    std::map<const MeterLight*, std::vector<Measured>> whole;
    for (const HeldMeter& m : l.meters)
        if (whole.count(m.light) == 0) whole[m.light] = m.light->all(now);
    std::size_t stage = l.meters.empty() ? 0 : l.meters.front().light->stages();
    double seconds = 0;
    for (const auto& [light, all] : whole) stage = std::min(stage, light->stages()), seconds += light->seconds();
    JsonValue j{{"revision", l.revision}, {"setup", json_text(l.asked.name)}, {"option", json_text(l.asked.option)},
                {"stage", stage},         {"seconds", short_number(seconds)}, {"bands", bands}};
    j["done"] = l.done;
    j["sources"] = JsonValue::array();
    for (std::size_t i = 0; i < sources.size(); ++i) j["sources"].push_back(source_json(l, sources[i], now[i]));
    j["readings"] = JsonValue::array();
    std::vector<Measured> all;
    for (const HeldMeter& m : l.meters) all.push_back(whole[m.light][m.number]);
    for (std::size_t m = 0; m < l.meters.size(); ++m) {
        const auto& [named, light, number] = l.meters[m];
        JsonValue layers = JsonValue::array(), errors = JsonValue::array();
        for (std::size_t s = 0; s < sources.size(); ++s) {
            layers.push_back(bands_json(light->light(number, s)));
            errors.push_back(short_number(light->stages() > 0 ? light->of(number, s).relative_error() : INFINITY));
        }
        j["readings"].push_back({{"name", json_text(named.name)},
                                 {"mark", json_text(named.mark)},
                                 {"kind", named.point.kind == MeterKind::dome ? "dome" : "flat"},
                                 {"side", side_of(l.meters, all, m)},
                                 {"lux", short_number(all[m].value)},
                                 {"error", short_number(all[m].relative_error())},
                                 {"layers", std::move(layers)},
                                 {"errors", std::move(errors)}});
    }
    j["separations"] = separations_json(l, now);
    j["remarks"] = JsonValue::array();
    if (sources.empty()) j["remarks"].push_back("No light: there is no lamp and the day is dark.");
    return j;
}

JsonValue picture_json(const Looker& l, const PictureLight& light, const PackedPicture& packed) {
    static constexpr const char* names[] = {"none", "frame", "map", "plan_map"};
    const LayeredFrame& f = light.frame;
    JsonValue sources = JsonValue::array();
    for (const std::string& s : f.sources) sources.push_back(json_text(s));
    JsonValue j{{"id", l.picture.id},
                {"revision", l.revision},
                {"setup", json_text(l.asked.name)},
                {"option", json_text(l.asked.option)},
                {"view", names[static_cast<std::size_t>(l.wish.view.kind)]},
                {"width", f.width},
                {"height", f.height},
                {"sources", std::move(sources)},
                {"scale", static_cast<double>(packed.scale)},
                {"stage", light.stages},
                {"noise", short_number(f.noise)},
                {"seconds", short_number(f.seconds)},
                {"bytes", packed.bytes->size()}};
    return j;
}

}  // namespace rushlight::desk
