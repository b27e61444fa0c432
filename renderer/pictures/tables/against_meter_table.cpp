#include "pictures/tables/against_meter_table.h"

#include "pictures/words/columns.h"
#include "pictures/words/numbers.h"
#include "pictures/words/utf8.h"

#include <cmath>

namespace rushlight {

std::string table(const AgainstMeter& against) {
    Column what{"Against your meter", true, {}}, metered{"meter, lx", false, {}}, traced{"traced", false, {}},
        off{"off by", false, {}}, kelvin{"meter, K", false, {}}, seen{"traced", false, {}}, mired{"mired", false, {}};
    bool colour = false;
    for (const AgainstMeter::Line& l : against.lines) {
        what.cells.push_back(l.what);
        metered.cells.push_back(l.lux ? lux_text(*l.lux) : "-");
        traced.cells.push_back(lux_text(l.traced.value));
        off.cells.push_back(l.lux ? with_error(stops_text(l.stops.value), l.stops.error) : "-");
        colour |= l.kelvin.has_value();
        kelvin.cells.push_back(l.kelvin ? fixed(*l.kelvin, 0) : "-");
        seen.cells.push_back(l.traced_kelvin > 0 ? fixed(l.traced_kelvin, 0) : "-");
        mired.cells.push_back(l.kelvin ? (l.mired < -0.5  ? "−"
                                          : l.mired > 0.5 ? "+"
                                                          : "") +
                                             fixed(std::abs(l.mired), 0)
                                       : "-");
    }
    std::vector<Column> columns{what, metered, traced, off};
    if (colour) columns.insert(columns.end(), {kelvin, seen, mired});
    std::string text = side_by_side(columns);
    if (std::isfinite(against.offset.error) && against.lines.size() > 1)
        text += wrapped("In the mean " + stops_text(against.offset.value) + " stops over the meter, lying " +
                            fixed(against.spread, 1) + " stops about that.",
                        "  ", "    ");
    for (const std::string& remark : against.remarks) text += wrapped(utf8(code_points(remark)), "  Note: ", "    ");
    return text;
}

}  // namespace rushlight
