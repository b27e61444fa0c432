#include "desk/light/sheet_json.h"

#include "desk/light/at_full.h"
#include "results/readings/spots.h"
#include "setup/text/words.h"

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

JsonValue metres_json(double v) {
    return std::isfinite(v) ? JsonValue(std::round(v * 1e4) / 1e4) : JsonValue(nullptr);
}

JsonValue point_json(const Vec3& v) {
    return {metres_json(static_cast<double>(v.x)), metres_json(static_cast<double>(v.y)),
            metres_json(static_cast<double>(v.z))};
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

JsonValue source_json(const OpenPage& l, const std::string& name, const Spectrum& now) {
    return {{"name", json_text(name)}, {"kind", kind_of_source(l.asked, name)}, {"now", bands_json(now)}};
}

/// One column: what every source gives to a meter, or to the mean of some.
JsonValue column_json(const NamedMeter& named, std::size_t sources, const MeterLight& light, MeterLight::Meters meters,
                      const Measured& all) {
    static constexpr const char* kinds[] = {"flat", "dome", "spot"};
    JsonValue layers = JsonValue::array(), errors = JsonValue::array();
    for (std::size_t s = 0; s < sources; ++s) {
        layers.push_back(bands_json(light.light(meters, s)));
        errors.push_back(short_number(light.stages() > 0 ? light.of(meters, s).relative_error() : INFINITY));
    }
    return {{"name", json_text(named.name)},
            {"mark", json_text(named.mark)},
            {"kind", kinds[static_cast<std::size_t>(named.point.kind)]},
            {named.point.kind == MeterKind::spot ? "luminance" : "lux", short_number(all.value)},
            {"traced", light.stages() > 0},
            {"stages", light.stages()},
            {"error", short_number(all.relative_error())},
            {"layers", std::move(layers)},
            {"errors", std::move(errors)}};
}

/// Separations, and the spots that come with them.
void add_outlines(const OpenPage& l, const std::vector<Spectrum>& now, JsonValue& j) {
    if (!l.outline_light || l.outline_light->stages() == 0) return;
    const MeterLight relit = l.outline_light->relit(now);
    for (const OutlineMeters& o : l.outlines) {
        const std::string& mark = l.asked.rig.marks.at(o.mark).name;
        for (const auto& [name, spots] : {std::pair{edge_name(o.name), &o.on}, {behind_edge, &o.behind}})
            j["spots"].push_back(column_json({mark + " " + name, mark, l.outline_light->points().at(spots->front())},
                                             now.size(), *l.outline_light, *spots, relit.all(*spots)));
        const Measured stops = relit.stops(o.on, o.behind);
        if (!std::isfinite(stops.value)) continue;
        j["separations"].push_back({{"name", json_text(o.name)},
                                    {"mark", json_text(mark)},
                                    {"stops", short_number(stops.value)},
                                    {"error_stops", short_number(stops.error)}});
    }
}

}  // namespace

JsonValue sheet_json(const OpenPage& l) {
    const std::vector<std::string>& sources = l.light->scene->lights.sources();
    const std::vector<Spectrum> now = burning(l.asked, sources);
    std::map<const MeterLight*, std::vector<Measured>> whole;
    for (const auto* held : {&l.meters, &l.spots})
        for (const HeldMeter& m : *held)
            if (whole.count(m.light) == 0) whole[m.light] = m.light->all(now);
    std::size_t stage = l.meters.empty() ? 0 : l.meters.front().light->stages();
    double seconds = 0;
    for (const auto& [light, all] : whole) seconds += light->seconds();
    for (const HeldMeter& m : l.meters) stage = std::min(stage, m.light->stages());
    JsonValue j{{"revision", l.revision}, {"setup", json_text(l.asked.name)}, {"option", json_text(l.asked.option)},
                {"stage", stage},         {"seconds", short_number(seconds)}, {"bands", bands}};
    j["done"] = l.done;
    for (const char* list : {"sources", "readings", "spots", "separations", "remarks"}) j[list] = JsonValue::array();
    for (std::size_t i = 0; i < sources.size(); ++i) j["sources"].push_back(source_json(l, sources[i], now[i]));
    const auto column = [&](const HeldMeter& m) {
        return column_json(m.meter, sources.size(), *m.light, std::span(&m.number, 1), whole[m.light][m.number]);
    };
    for (const HeldMeter& m : l.meters) j["readings"].push_back(column(m));
    for (const HeldMeter& m : l.spots) j["spots"].push_back(column(m));
    add_outlines(l, now, j);
    if (sources.empty()) j["remarks"].push_back("No light: there is no lamp and the day is dark.");
    return j;
}

JsonValue picture_json(const OpenPage& l, const PictureLight& light, const PackedPicture& packed) {
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
