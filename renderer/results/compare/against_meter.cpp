#include "results/compare/against_meter.h"

#include "setup/text/where.h"
#include "setup/text/words.h"

#include <algorithm>
#include <cmath>

namespace rushlight {

namespace {

/// The error of a hand-held meter, stops (common practice, no source).
constexpr double as_good_as_meters = 1.0 / 3;

[[noreturn]] void refuse(const MeteredLine& m, const std::string& path, const std::vector<std::string>& names) {
    throw InputError({path, m.line, m.column},
                     "found " + in_quotes(m.what) + ", expected a reading of this set-up" + hint(m.what, names));
}

}  // namespace

void expect_readings(const MeteredTable& table, const std::vector<std::string>& names) {
    for (const MeteredLine& m : table.lines)
        if (std::none_of(names.begin(), names.end(), [&](const std::string& n) { return tidy(n) == tidy(m.what); }))
            refuse(m, table.path, names);
}

AgainstMeter against_meter(const Sheet& sheet, const MeteredTable& table) {
    AgainstMeter all;
    all.remarks = table.remarks;
    std::vector<double> stops;
    for (const MeteredLine& m : table.lines) {
        const auto reading = std::find_if(sheet.readings.begin(), sheet.readings.end(),
                                          [&](const Reading& r) { return tidy(r.name) == tidy(m.what); });
        if (reading == sheet.readings.end()) {
            std::vector<std::string> names;
            for (const Reading& r : sheet.readings) names.push_back(r.name);
            refuse(m, table.path, names);
        }
        AgainstMeter::Line line{reading->name, m.lux, m.kelvin, reading->lux, reading->kelvin};
        if (m.lux && reading->lux.value > 0) {
            line.stops = stops_between({*m.lux}, reading->lux);
            stops.push_back(line.stops.value);
        }
        if (m.kelvin && reading->kelvin > 0) line.mired = 1e6 / reading->kelvin - 1e6 / *m.kelvin;
        all.lines.push_back(line);
    }
    if (stops.size() < 2) {
        if (!stops.empty()) all.offset = {stops[0], INFINITY};
        return all;
    }
    all.offset = mean_of(stops);
    all.spread = all.offset.error * std::sqrt(static_cast<double>(stops.size()));
    if (all.spread <= as_good_as_meters && std::abs(all.offset.value) <= as_good_as_meters)
        all.remarks.push_back("within a third of a stop, as good as meters are: the model can be trusted here");
    else if (all.spread <= as_good_as_meters)
        all.remarks.push_back(
            "all off by about the same: the light is stronger or weaker than the file says; one of these "
            "as a [[measured]] puts it right");
    else {
        all.off_unevenly = true;
        all.remarks.push_back(
            "off by different amounts: something is in the light that the file does not have, or a finish is "
            "wrong");
    }
    return all;
}

}  // namespace rushlight
