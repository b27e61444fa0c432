// Text in columns and in lines that fit a page.
#pragma once

#include <string>
#include <vector>

namespace rushlight {

inline constexpr int widest = 100;    // columns of the page
inline constexpr int column_gap = 2;  // spaces between columns

struct Column {
    std::string head;
    bool to_the_left = false;
    std::vector<std::string> cells;
};

int width_of(const Column& column);
/// Columns side by side; spaces at the end of a line are left out.
std::string side_by_side(const std::vector<Column>& all);
/// Long sentences in lines that fit, later lines set in.
std::string wrapped(const std::string& text, const std::string& first, const std::string& later);

}  // namespace rushlight
