#include "pictures/words/columns.h"

#include "pictures/words/utf8.h"

#include <algorithm>

namespace rushlight {

int width_of(const Column& column) {
    int width = columns(column.head);
    for (const auto& cell : column.cells) width = std::max(width, columns(cell));
    return width;
}

std::string side_by_side(const std::vector<Column>& all) {
    std::string text;
    std::vector<int> widths;
    for (const Column& column : all) widths.push_back(width_of(column));
    const auto line = [&](auto cell_of) {
        std::string row;
        for (std::size_t c = 0; c < all.size(); ++c) {
            if (!row.empty()) row.append(column_gap, ' ');
            row += all[c].to_the_left ? padded(cell_of(all[c]), widths[c]) : padded_left(cell_of(all[c]), widths[c]);
        }
        row.erase(row.find_last_not_of(' ') + 1);
        text += "  " + row + "\n";
    };
    line([](const Column& c) { return c.head; });
    for (std::size_t i = 0; i < all.front().cells.size(); ++i) line([&](const Column& c) { return c.cells[i]; });
    return text;
}

std::string wrapped(const std::string& text, const std::string& first, const std::string& later) {
    std::string out, line = first;
    bool fresh = true;
    std::size_t from = 0;
    while (from <= text.size()) {
        const std::size_t to = std::min(text.find(' ', from), text.size());
        const std::string word =
            cut_to(text.substr(from, to - from), widest - std::max(columns(first), columns(later)));
        if (!fresh && columns(line) + 1 + columns(word) > widest) {
            out += line + "\n";
            line = later, fresh = true;
        }
        line += (fresh ? "" : " ") + word;
        fresh = false;
        from = to + 1;
    }
    return out + line + "\n";
}

}  // namespace rushlight
