#include "pictures/tables/match_table.h"

#include "pictures/words/columns.h"
#include "pictures/words/json_parts.h"
#include "pictures/words/numbers.h"
#include "pictures/words/utf8.h"

#include <cmath>

namespace rushlight {
namespace {

constexpr int widest_side = 15;

std::string value_text(const Measured& m, const std::string& unit) {
    if (unit == "stops") return stops_text(m.value);
    if (unit.empty()) return fixed(m.value, 0);
    return (m.value < -0.5 ? "−" : m.value > 0.5 ? "+" : "") + fixed(std::abs(m.value), 0);
}

std::string verdict(const MatchRow& r) {
    if (!r.known) return "not seen on both sides";
    if (r.unsure() && r.apart.error > 0) return "too near to call";
    return r.matches() ? "matches" : "apart";
}

}  // namespace

std::string table(const Match& match) {
    Column name{"Do they match?", true, {}}, here{cut_to(match.here, widest_side), false, {}},
        there{cut_to(match.there, widest_side), false, {}}, gap{"apart", false, {}}, allowed{"allowed", false, {}},
        says{"", true, {}};
    for (const MatchRow& r : match.rows) {
        name.cells.push_back(r.name);
        here.cells.push_back(r.known ? value_text(r.here, r.unit) : "-");
        there.cells.push_back(r.known ? value_text(r.there, r.unit) : "-");
        gap.cells.push_back(r.known ? r.apart.error > 0 ? with_error(value_text(r.apart, r.unit), r.apart.error)
                                                        : value_text(r.apart, r.unit)
                                    : "-");
        allowed.cells.push_back((r.unit == "stops" ? fixed(r.allowed, 2) : fixed(r.allowed, 0)) +
                                (r.unit.empty() ? "" : " " + r.unit));
        says.cells.push_back(verdict(r));
    }
    std::string text = match.rows.empty() ? "Do they match?\n" : side_by_side({name, here, there, gap, allowed, says});
    for (const std::string& remark : match.remarks) text += wrapped(utf8(code_points(remark)), "  Note: ", "    ");
    return text;
}

JsonValue json_of(const Match& match) {
    JsonValue all{{"here", json_text(match.here)}, {"there", json_text(match.there)}};
    all["rows"] = JsonValue::array();
    for (const MatchRow& r : match.rows)
        all["rows"].push_back({{"name", r.name},
                               {"unit", r.unit},
                               {"here", r.known ? json_number(r.here.value) : JsonValue(nullptr)},
                               {"there", r.known ? json_number(r.there.value) : JsonValue(nullptr)},
                               {"apart", r.known ? json_number(r.apart.value) : JsonValue(nullptr)},
                               {"error", r.known ? json_number(r.apart.error) : JsonValue(nullptr)},
                               {"allowed", json_number(r.allowed)},
                               {"matches", r.known ? JsonValue(r.matches()) : JsonValue(nullptr)}});
    all["remarks"] = match.remarks;
    return all;
}

std::string json(const Match& match) {
    return written_out(json_of(match));
}

}  // namespace rushlight
