// Readings of a meter in a plain table: comma-separated values (RFC 4180), or the same with semicolons or tabs, as
// spreadsheets write them. One line of heads, then one line a reading.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace rushlight {

struct MeteredLine {
    std::string what;           // name of a reading
    std::optional<double> lux;  // footcandles are turned into lux
    std::optional<double> kelvin;
    int line = 0, column = 0;  // of the name
};

struct MeteredTable {
    std::string path;
    std::vector<MeteredLine> lines;
    std::vector<std::string> remarks;  // columns that are not used
};

/// Heads: what, and lux or fc, and kelvin; others are left alone. Throws InputError with line and column.
MeteredTable read_metered_table(const std::string& path);
MeteredTable metered_table_from_text(const std::string& text, const std::string& path);

}  // namespace rushlight
