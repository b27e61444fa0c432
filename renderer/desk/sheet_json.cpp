#include "desk/sheet_json.h"

#include "desk/bare.h"

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

JsonValue sheet_json(const Looker& l) {
    const std::vector<std::string>& sources = l.light->scene->lights.sources();
    const std::vector<Spectrum> now = now_of_bare(l.asked, sources);
    const MeterLight& light = *l.meter_light;
    JsonValue j{
        {"revision", l.revision},  {"setup", json_text(l.asked.name)},         {"option", json_text(l.asked.option)},
        {"stage", light.stages()}, {"seconds", short_number(light.seconds())}, {"bands", bands}};
    j["sources"] = JsonValue::array();
    for (std::size_t s = 0; s < sources.size(); ++s)
        j["sources"].push_back({{"name", json_text(sources[s])},
                                {"kind", kind_of_source(l.asked, sources[s])},
                                {"now", bands_json(now[s])}});
    j["readings"] = JsonValue::array();
    const std::vector<Measured> all = light.all(now);
    for (std::size_t m = 0; m < l.meters.size(); ++m) {
        JsonValue layers = JsonValue::array(), errors = JsonValue::array();
        for (std::size_t s = 0; s < sources.size(); ++s) {
            layers.push_back(bands_json(light.light(m, s)));
            errors.push_back(short_number(light.stages() > 0 ? light.of(m, s).relative_error() : INFINITY));
        }
        j["readings"].push_back({{"name", json_text(l.meters[m].name)},
                                 {"mark", json_text(l.meters[m].mark)},
                                 {"kind", l.meters[m].point.kind == MeterKind::dome ? "dome" : "flat"},
                                 {"lux", short_number(all[m].value)},
                                 {"error", short_number(all[m].relative_error())},
                                 {"layers", std::move(layers)},
                                 {"errors", std::move(errors)}});
    }
    j["remarks"] = JsonValue::array();
    if (sources.empty()) j["remarks"].push_back("No light: there is no lamp and the day is dark.");
    return j;
}

JsonValue picture_json(const Looker& l, const PictureLight& light, const PackedPicture& packed) {
    static constexpr const char* names[] = {"none", "frame", "map", "plan"};
    const LayeredFrame& f = light.frame;
    JsonValue sources = JsonValue::array();
    for (const std::string& s : f.sources) sources.push_back(json_text(s));
    return {{"id", l.picture.id},
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
            {"paths", f.paths_per_pixel},
            {"bytes", packed.bytes->size()}};
}

}  // namespace rushlight::desk
