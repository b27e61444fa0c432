#include "setup/text/metered_table.h"

#include "quantity/units.h"
#include "setup/text/photometric_text.h"
#include "setup/text/where.h"
#include "setup/text/whole_file.h"
#include "setup/text/words.h"

#include <algorithm>
#include <charconv>

namespace rushlight {

namespace {

constexpr std::size_t most_bytes = 1'000'000, most_lines = 10'000;

struct Cell {
    std::string text;
    int line = 1, column = 1;
};
using Row = std::vector<Cell>;

/// Rows of cells; a cell in quotes may hold separators and line ends, and a quote twice (RFC 4180).
std::vector<Row> rows_of(const std::string& text, char separator, const std::string& path) {
    std::vector<Row> rows;
    Row row;
    Cell cell;
    int line = 1, column = 1;
    bool quoted = false;
    const auto end_row = [&] {
        row.push_back(cell);
        if (row.size() > 1 || !tidy(row[0].text).empty()) rows.push_back(row);
        row.clear();
        if (rows.size() > most_lines)
            throw InputError({path, line}, "found more than " + std::to_string(most_lines) + " lines");
    };
    for (std::size_t i = 0; i < text.size(); ++i, ++column) {
        const char c = text[i];
        if (quoted) {
            if (c == '"' && i + 1 < text.size() && text[i + 1] == '"') {
                cell.text += '"';
                ++i;
                ++column;
            } else if (c == '"') {
                quoted = false;
            } else {
                cell.text += c;
            }
        } else if (c == '"' && tidy(cell.text).empty()) {
            quoted = true;
            cell.text.clear();
        } else if (c == separator) {
            row.push_back(cell);
            cell = {{}, line, column + 1};
        } else if (c == '\n') {
            end_row();
            cell = {{}, line + 1, 1};
        } else if (c != '\r') {
            cell.text += c;
        }
        if (c == '\n') {
            ++line;
            column = 0;
        }
    }
    if (quoted) throw InputError({path, cell.line, cell.column}, "found a quote that is never closed");
    end_row();
    return rows;
}

/// Whichever of the three the heads have most of.
char separator_of(const std::string& text) {
    const std::string heads = text.substr(0, text.find('\n'));
    char best = ',';
    for (const char c : {';', '\t'})
        if (std::count(heads.begin(), heads.end(), c) > std::count(heads.begin(), heads.end(), best)) best = c;
    return best;
}

/// A comma is a decimal point, but where commas part the columns: there "1,200" may be meant as a thousand.
std::optional<double> number_in(const Cell& cell, const std::string& path, const std::string& head, char separator,
                                double low, double high) {
    std::string digits = tidy(cell.text);
    if (digits.empty() || digits == "-") return {};
    std::erase(digits, ' ');
    if (separator != ',') std::replace(digits.begin(), digits.end(), ',', '.');
    double value = 0;
    const auto [end, problem] = std::from_chars(digits.data(), digits.data() + digits.size(), value);
    if (problem != std::errc{} || end != digits.data() + digits.size() || !(value >= low && value <= high))
        throw InputError({path, cell.line, cell.column}, "found " + head + " " + in_quotes(cell.text) +
                                                             ", expected a number from " + plain(low) + " to " +
                                                             plain(high) + ", or nothing");
    return value;
}

}  // namespace

MeteredTable metered_table_from_text(const std::string& raw, const std::string& path) {
    const std::string text = raw.starts_with("\xEF\xBB\xBF") ? raw.substr(3) : raw;
    if (text.find('\0') != std::string::npos)
        throw InputError({path}, "found bytes that are not text, expected a plain table; export it as CSV");
    MeteredTable table{path, {}, {}};
    const char separator = separator_of(text);
    const std::vector<Row> rows = rows_of(text, separator, path);
    if (rows.empty()) throw InputError({path}, "found nothing, expected a line of heads: what, lux, kelvin");
    std::optional<std::size_t> what, lux, candles, kelvin;
    const auto take = [&](std::optional<std::size_t>& place, std::size_t i) {
        if (place)
            throw InputError({path, rows[0][i].line, rows[0][i].column},
                             "found a second column " + in_quotes(rows[0][i].text));
        place = i;
    };
    for (std::size_t i = 0; i < rows[0].size(); ++i) {
        const std::string head = tidy(rows[0][i].text);
        if (head == "what" || head == "reading" || head == "name")
            take(what, i);
        else if (head == "lux" || head == "lx")
            take(lux, i);
        else if (head == "fc" || head == "footcandles")
            take(candles, i);
        else if (head == "kelvin" || head == "k")
            take(kelvin, i);
        else if (!head.empty())
            table.remarks.push_back("column " + in_quotes(rows[0][i].text) + " is not used");
    }
    const Where heads{path, rows[0][0].line};
    if (!what) throw InputError(heads, "found no column 'what', expected heads such as what, lux, kelvin");
    if (lux && candles) throw InputError(heads, "found lux and fc, expected one of the two");
    if (!lux && !candles && !kelvin) throw InputError(heads, "found no column 'lux', 'fc' or 'kelvin'");
    for (std::size_t r = 1; r < rows.size(); ++r) {
        const Row& row = rows[r];
        const auto cell = [&](std::size_t i) { return i < row.size() ? row[i] : Cell{{}, row[0].line, row[0].column}; };
        MeteredLine line;
        const Cell name = cell(*what);
        line.what = without_outer_blanks(name.text);
        line.line = name.line;
        line.column = name.column;
        if (line.what.empty())
            throw InputError({path, name.line, name.column}, "found no name, expected that of a reading");
        if (lux) line.lux = number_in(cell(*lux), path, "lux", separator, 0.01, 200'000);
        if (candles)
            if (const auto fc = number_in(cell(*candles), path, "fc", separator, 0.001, 20'000))
                line.lux = from_footcandles(*fc).value;
        if (kelvin) line.kelvin = number_in(cell(*kelvin), path, "kelvin", separator, 1000, 25'000);
        if (line.lux || line.kelvin) table.lines.push_back(line);
    }
    if (table.lines.empty()) throw InputError(heads, "found heads and no readings under them");
    return table;
}

MeteredTable read_metered_table(const std::string& path) {
    return metered_table_from_text(whole_file(path, most_bytes, "a table of readings"), path);
}

}  // namespace rushlight
