#include "pictures/json.h"

#include "pictures/utf8.h"

#include <cmath>
#include <nlohmann/json.hpp>

namespace rushlight {
namespace {

using Value = nlohmann::ordered_json;

Value number(double v) {
    return std::isfinite(v) ? Value(v) : Value(nullptr);
}
Value text(const std::string& s) {
    return utf8(code_points(s));
}

Value reading(const Reading& r, const std::vector<std::string>& sources) {
    const bool lit = std::isfinite(r.lux.value) && r.lux.value > 0;
    Value by_source = Value::object();
    for (std::size_t s = 0; s < sources.size() && s < r.by_source.size(); ++s)
        by_source[utf8(code_points(sources[s]))] = number(r.by_source[s].value);
    return {{"name", text(r.name)},
            {"mark", text(r.mark)},
            {"kind", text(r.kind)},
            {"side", r.side.empty() ? Value(nullptr) : text(r.side)},
            {"lux", number(r.lux.value)},
            {"error_lux", number(r.lux.error)},
            {"stop", lit && r.t_stop > 0 ? number(r.t_stop) : Value(nullptr)},
            {"kelvin", lit && r.kelvin > 0 ? number(r.kelvin) : Value(nullptr)},
            {"duv", lit && r.kelvin > 0 ? number(r.duv) : Value(nullptr)},
            {"by_source", std::move(by_source)}};
}

}  // namespace

std::string json(const Sheet& sheet) {
    Value all{{"title", text(sheet.title)}, {"setup", text(sheet.setup)}, {"option", text(sheet.option)}};
    all["sources"] = Value::array();
    for (const auto& source : sheet.sources) all["sources"].push_back(text(source));
    all["readings"] = Value::array();
    for (const Reading& r : sheet.readings) all["readings"].push_back(reading(r, sheet.sources));
    all["ratios"] = Value::array();
    for (const Ratio& r : sheet.ratios)
        all["ratios"].push_back({{"name", text(r.name)},
                                 {"ratio", number(r.ratio)},
                                 {"stops", number(r.stops.value)},
                                 {"error_stops", number(r.stops.error)}});
    all["separations"] = Value::array();
    for (const Separation& s : sheet.separations)
        all["separations"].push_back({{"name", text(s.name)},
                                      {"stops", number(s.stops.value)},
                                      {"error_stops", number(s.stops.error)},
                                      {"least", number(s.least)}});
    if (!sheet.against.empty()) {
        all["against"] = text(sheet.against);
        all["changes"] = Value::array();
        for (const Change& c : sheet.changes)
            all["changes"].push_back(
                {{"name", text(c.name)}, {"stops", number(c.stops.value)}, {"error_stops", number(c.stops.error)}});
    }
    all["remarks"] = Value::array();
    for (const auto& remark : sheet.remarks) all["remarks"].push_back(text(remark));
    all["seconds"] = number(sheet.seconds);
    all["wanted_error"] = number(sheet.wanted_error);
    return all.dump(2) + "\n";
}

}  // namespace rushlight
