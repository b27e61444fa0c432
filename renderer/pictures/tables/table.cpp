#include "pictures/tables/table.h"

#include "pictures/tables/people_table.h"
#include "pictures/words/columns.h"
#include "pictures/words/numbers.h"
#include "pictures/words/utf8.h"
#include "quantity/exposure.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace rushlight {
namespace {

constexpr int widest_name = 30;  // of a reading

bool lit(const Measured& m) {
    return std::isfinite(m.value) && m.value > 0;
}

std::string titled(const Sheet& sheet) {
    // A long title is cut, not the set-up's name.
    std::string where;
    for (const std::string& part : {sheet.setup, sheet.option})
        if (!part.empty()) where += (where.empty() ? "" : " · ") + part;
    if (sheet.title.empty()) return cut_to(where.empty() ? "Readings" : where, widest) + "\n";
    if (where.empty()) return cut_to(sheet.title, widest) + "\n";
    constexpr int least_title = 20, between = 3;
    return cut_to(sheet.title, std::max(least_title, widest - between - columns(where))) + " · " +
           cut_to(where, widest - least_title - between) + "\n";
}

Column names(const std::string& head, const std::vector<Reading>& readings) {
    Column column{head, true, {}};
    for (const Reading& r : readings) column.cells.push_back(cut_to(r.name, widest_name));
    return column;
}

std::string readings_block(const Sheet& sheet) {
    Column side{"side", true, {}}, receptor{"receptor", true, {}}, lux{"lux", false, {}}, error{"±", false, {}},
        stop{"T-stop", false, {}};
    Column kelvin{"kelvin", false, {}}, duv{"Duv", false, {}};
    for (const Reading& r : sheet.readings) {
        const bool coloured = lit(r.lux) && std::isfinite(r.kelvin) && r.kelvin > 0;
        side.cells.push_back(cut_to(r.side, 6));
        receptor.cells.push_back(cut_to(r.kind, 10));
        lux.cells.push_back(lux_text(r.lux.value));
        // Where no light was met some may be, unless none is about.
        error.cells.push_back(lit(r.lux) || r.lux.error > 0 ? lux_error_text(r.lux.value, r.lux.error) : "");
        stop.cells.push_back(lit(r.lux) ? t_stop_text(r.t_stop) : "-");
        kelvin.cells.push_back(coloured ? fixed(r.kelvin, 0) : "-");
        duv.cells.push_back(coloured ? (r.duv < 0 ? "−" : "+") + fixed(std::abs(r.duv), 3) : "-");
    }
    return side_by_side({names("Readings", sheet.readings), side, receptor, lux, error, stop, kelvin, duv});
}

// As many blocks as it takes for all sources to fit on the page.
std::string shares_block(const Sheet& sheet) {
    if (sheet.sources.size() == 1) return "\n  All of it comes from one source: " + sheet.sources.front() + ".\n";
    std::string text;
    std::vector<Column> block{names("Share by source", sheet.readings)};
    int used = column_gap + width_of(block.front());
    const auto close = [&] {
        if (block.size() > 1) text += "\n" + side_by_side(block);
        block.resize(1);
        used = column_gap + width_of(block.front());
    };
    for (std::size_t s = 0; s < sheet.sources.size(); ++s) {
        Column share{cut_to(sheet.sources[s], 18), false, {}};
        for (const Reading& r : sheet.readings) {
            double sum = 0;
            for (const Measured& m : r.by_source)
                if (lit(m)) sum += m.value;
            share.cells.push_back(s < r.by_source.size() && sum > 0 ? percent_text(r.by_source[s].value / sum) : "-");
        }
        if (used + column_gap + width_of(share) > widest) close();
        used += column_gap + width_of(share);
        block.push_back(std::move(share));
    }
    close();
    return text;
}

std::string ratios_block(const Sheet& sheet) {
    Column name{"Ratios, brighter:darker", true, {}}, ratio{"ratio", false, {}}, stops{"stops", false, {}};
    for (const Ratio& r : sheet.ratios) {
        const bool known = std::isfinite(r.ratio) && r.ratio > 0 && std::isfinite(r.stops.value);
        name.cells.push_back(cut_to(r.name, widest_name + 20));
        ratio.cells.push_back(known ? ratio_text(r.ratio) : "-");
        stops.cells.push_back(!known                         ? std::string(no_light) + " on the darker side"
                              : std::isfinite(r.stops.error) ? with_error(fixed(r.stops.value, 1), r.stops.error)
                                                             : fixed(r.stops.value, 1));
    }
    return "\n" + side_by_side({name, ratio, stops}) +
           "  Ratios are (brighter cheek):(darker cheek), each with all the light that falls on it.\n";
}

std::string separations_block(const Sheet& sheet) {
    Column name{"Hair over background", true, {}}, stops{"stops", false, {}},
        least{"minimum along the edge", false, {}}, sensor{"through the filters", false, {}};
    bool filtered = false;
    for (const Separation& s : sheet.separations) {
        name.cells.push_back(cut_to(s.name, widest_name + 20));
        stops.cells.push_back(with_error(s.stops));
        least.cells.push_back(std::isfinite(s.least) ? fixed(s.least, 1) : "-");
        sensor.cells.push_back(s.stops_on_sensor ? with_error(*s.stops_on_sensor) : "-");
        filtered = filtered || s.stops_on_sensor;
    }
    return "\n" + (filtered ? side_by_side({name, stops, least, sensor}) : side_by_side({name, stops, least})) +
           "  + is an outline brighter than what is behind it.\n";
}

std::string changes_block(const Sheet& sheet) {
    Column name{"Change from \"" + cut_to(sheet.against, widest_name) + "\"", true, {}}, stops{"stops", false, {}},
        sure{"", true, {}};
    for (const Change& c : sheet.changes) {
        name.cells.push_back(cut_to(c.name, widest_name + 20));
        stops.cells.push_back(with_error(c.stops));
        // Three errors: chance alone does that once in some four hundred readings.
        const bool real = std::isfinite(c.stops.error) && std::abs(c.stops.value) > 3 * c.stops.error;
        sure.cells.push_back(real || !std::isfinite(c.stops.value) ? "" : "within the noise");
    }
    return "\n" + side_by_side({name, stops, sure});
}

}  // namespace

std::string table(const Sheet& sheet) {
    std::string text = titled(sheet);
    text += wrapped("Meter: incident light, flat receptor, C = " + fixed(incident_constant_flat, 0) +
                        " lx s; the T-stop is for the camera's ISO and shutter. ± is one standard error.",
                    "", "");
    text += "\n";
    text += sheet.readings.empty() ? "  No readings were asked for.\n" : readings_block(sheet);
    if (!sheet.readings.empty()) text += shares_block(sheet);
    if (!sheet.ratios.empty()) text += ratios_block(sheet);
    if (!sheet.separations.empty()) text += separations_block(sheet);
    text += people_table(sheet);
    if (!sheet.in_shot.empty()) {
        std::string all;
        for (const std::string& name : sheet.in_shot) all += (all.empty() ? "" : ", ") + name;
        text += "\n" + wrapped(utf8(code_points("In shot: " + all + ".")), "  ", "    ");
    }
    if (!sheet.changes.empty()) text += changes_block(sheet);
    if (!sheet.remarks.empty() || sheet.seconds > 0) text += "\n";
    for (const std::string& remark : sheet.remarks) text += wrapped(utf8(code_points(remark)), "  Note: ", "    ");
    if (std::isfinite(sheet.seconds) && sheet.seconds > 0) {
        text += "  Traced in " + fixed(sheet.seconds, sheet.seconds < 9.95 ? 1 : 0) + " s";
        if (sheet.wanted_error > 0) text += "; wanted error " + fixed(100 * sheet.wanted_error, 1) + " %";
        text += ".\n";
    }
    return text;
}

std::string comma_separated(const Sheet& sheet) {
    std::string text = "row,name,mark,receptor,lux,error_lux,t_stop,kelvin,duv,ratio,stops,error_stops,least_stops";
    for (const std::string& source : sheet.sources) text += "," + csv_cell(source + " lux");
    text += "\r\n";
    const auto row = [&](std::vector<std::string> cells) {
        cells.resize(13 + sheet.sources.size());
        for (std::size_t i = 0; i < cells.size(); ++i) text += (i > 0 ? "," : "") + cells[i];
        text += "\r\n";
    };
    for (const Reading& r : sheet.readings) {
        const bool seen = lit(r.lux), coloured = seen && r.kelvin > 0;
        std::vector<std::string> cells{"reading",
                                       csv_cell(r.name),
                                       csv_cell(r.mark),
                                       csv_cell(r.kind),
                                       csv_number(r.lux.value, 4),
                                       csv_number(r.lux.error, 4),
                                       seen && r.t_stop > 0 ? csv_number(r.t_stop, 3) : "",
                                       coloured ? csv_number(r.kelvin, 0) : "",
                                       coloured ? csv_number(r.duv, 5) : ""};
        cells.resize(13);
        for (std::size_t s = 0; s < sheet.sources.size(); ++s)
            cells.push_back(s < r.by_source.size() ? csv_number(r.by_source[s].value, 4) : "");
        row(std::move(cells));
    }
    for (const Ratio& r : sheet.ratios)
        row({"ratio", csv_cell(r.name), "", "", "", "", "", "", "", csv_number(r.ratio, 4),
             csv_number(r.stops.value, 4), csv_number(r.stops.error, 4)});
    for (const Separation& s : sheet.separations)
        row({"separation", csv_cell(s.name), "", "", "", "", "", "", "", "", csv_number(s.stops.value, 4),
             csv_number(s.stops.error, 4), csv_number(s.least, 4)});
    for (const Change& c : sheet.changes)
        row({csv_cell("change from " + sheet.against), csv_cell(c.name), "", "", "", "", "", "", "", "",
             csv_number(c.stops.value, 4), csv_number(c.stops.error, 4)});
    return text;
}

}  // namespace rushlight
