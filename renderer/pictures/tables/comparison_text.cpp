#include "pictures/tables/comparison_text.h"

#include "pictures/words/columns.h"
#include "pictures/words/json_value.h"
#include "pictures/words/numbers.h"
#include "pictures/words/utf8.h"
#include "setup/advice/check.h"

#include <algorithm>
#include <cmath>

namespace rushlight {
namespace {

using Value = JsonValue;

const MainNumber* named(const std::vector<MainNumber>& all, const std::string& name) {
    for (const MainNumber& n : all)
        if (n.name == name) return &n;
    return nullptr;
}

std::string cell(const MainNumber* n, const std::vector<MainNumber>& first, bool is_first) {
    if (n == nullptr) return "-";
    if (is_first) return n->said;
    const MainDifference d = difference(*n, first);
    if (!d.known) return n->said;
    return is_real(d.stops) ? with_error(stops_text(d.stops.value), d.stops.error) : "within noise";
}

}  // namespace

std::string text(const Comparison& c) {
    std::string t;
    for (const std::string& piece : {c.title, c.setup})
        if (!piece.empty()) t += (t.empty() ? "" : " · ") + piece;
    t += "\n";
    if (c.options.empty()) return t;
    const std::string against = c.options.front().sheet.option;
    t += wrapped("\"" + utf8(code_points(against)) +
                     "\" as the meters say it; the others as stops from it, ± one standard error. "
                     "Within noise: less than three errors.",
                 "", "");
    std::vector<std::vector<MainNumber>> numbers;
    std::vector<std::string> names;
    for (const Compared& o : c.options) {
        numbers.push_back(main_numbers(o.sheet));
        for (const MainNumber& n : numbers.back())
            if (std::find(names.begin(), names.end(), n.name) == names.end()) names.push_back(n.name);
    }
    Column name{"", true, {}};
    for (const std::string& n : names) name.cells.push_back(cut_to(n, 30));
    // As many blocks as it takes for all options to fit on the page.
    std::vector<Column> block{name};
    int used = column_gap + width_of(name);
    const auto close = [&] {
        if (block.size() > 1) t += "\n" + side_by_side(block);
        block.resize(1);
        used = column_gap + width_of(name);
    };
    for (std::size_t i = 0; i < c.options.size(); ++i) {
        Column column{cut_to(c.options[i].sheet.option, 26), false, {}};
        for (const std::string& n : names) column.cells.push_back(cell(named(numbers[i], n), numbers.front(), i == 0));
        if (used + column_gap + width_of(column) > widest) close();
        used += column_gap + width_of(column);
        block.push_back(std::move(column));
    }
    close();
    if (!c.remarks.empty()) t += "\n";
    for (const std::string& remark : c.remarks) t += wrapped(utf8(code_points(remark)), "  Note: ", "    ");
    return t + "  " + planning_caution + "\n";
}

std::string json(const Comparison& c) {
    Value all{{"title", json_text(c.title)}, {"setup", json_text(c.setup)}};
    all["against"] = c.options.empty() ? Value(nullptr) : json_text(c.options.front().sheet.option);
    all["options"] = Value::array();
    const std::vector<MainNumber> first =
        c.options.empty() ? std::vector<MainNumber>{} : main_numbers(c.options.front().sheet);
    for (std::size_t i = 0; i < c.options.size(); ++i) {
        Value numbers = Value::array();
        for (const MainNumber& n : main_numbers(c.options[i].sheet)) {
            Value one{{"name", json_text(n.name)},
                      {"said", json_text(n.said)},
                      {"stops", json_number(n.stops.value)},
                      {"error_stops", json_number(n.stops.error)}};
            const MainDifference d = difference(n, first);
            if (i > 0) {
                one["difference"] = d.known ? json_number(d.stops.value) : Value(nullptr);
                one["error_difference"] = d.known ? json_number(d.stops.error) : Value(nullptr);
                one["beyond_noise"] = d.known && is_real(d.stops);
            }
            numbers.push_back(std::move(one));
        }
        all["options"].push_back({{"option", json_text(c.options[i].sheet.option)}, {"numbers", std::move(numbers)}});
    }
    all["remarks"] = Value::array();
    for (const auto& remark : c.remarks) all["remarks"].push_back(json_text(remark));
    return written_out(all);
}

}  // namespace rushlight
