// Words, tables and figures flowing down the pages of a PDF.
#pragma once

#include "pictures/brief/document.h"
#include "pictures/draw/paper.h"

#include <functional>
#include <string>
#include <vector>

namespace rushlight {

struct PageSize {
    double width = 210, height = 297;  // mm
};
inline constexpr PageSize a4_page{210, 297}, letter_page{215.9, 279.4};

class PageFlow {
public:
    /// `tight`: letters and gaps are that much smaller, so that the last lines find room.
    PageFlow(Paper& paper, const PageSize& size, std::string foot, double tight = 1);

    void title(const std::string& whom, const std::string& words, const std::string& below);
    /// On a new page if so wished, or where little of this one is left: less than what it `holds`, pt.
    void section(const std::string& words, bool new_page, double holds = 0);
    /// Stands on the same page as what comes after it.
    void heading(const std::string& words);
    void text(const std::string& words, double size, bool faint);
    void caution(const std::string& words);
    /// Neither its first nor its last line stands on a page alone.
    void list(const std::vector<std::string>& items);
    /// Not torn unless it takes most of a page; then its head stands on every page.
    void table(const BriefTable& table);
    /// What of it stays together, pt.
    double together(const BriefTable& table);
    /// Something that is not broken: `draw` gets the box; the caption stands under it. What is lower than the rest of
    /// a page goes on the next.
    struct Piece {
        double aspect = 1;  // width over height
        std::string caption;
        double most_height = 1e9;  // pt, of one that is alone in its row
        std::function<void(Paper&, const PaperBox&)> draw;
    };
    void row(const std::vector<Piece>& pieces, std::size_t across);
    /// A piece, and to its right a table.
    void beside(const Piece& piece, const BriefTable& table);
    /// Of pieces side by side with their captions, pt.
    double row_height(const std::vector<Piece>& pieces, std::size_t across);
    /// A piece over all the width, as high as it wants to be (`height_in`: of what is left) on what is left of the
    /// page, or on the next where too little is.
    void fill(const Piece& piece, const std::function<double(double)>& height_in);

    /// What they take where no page ends, pt.
    double height_of(const std::string& words, double size);
    double height_of(const std::vector<std::string>& items);
    double height_of(const BriefTable& table);

    double width() const { return right_ - left_; }
    /// Height of a whole page's text.
    double page_height() const { return bottom_ - top_; }
    double left_on_page() const { return bottom_ - y_; }
    /// Share of the page that is written on so far.
    double filled() const { return (y_ - top_) / page_height(); }
    void end();
    int pages() const { return page_; }

private:
    /// Goes to the next page where there is no room for it, and writes the heading that waits for it.
    void need(double height);
    void next_page();
    void write_foot();
    std::vector<double> widths_of(const BriefTable& table, double room);
    double height_of(const BriefTable& table, const std::vector<double>& widths);
    double row_height(const BriefTable& table, const std::vector<std::string>& cells,
                      const std::vector<double>& widths);
    TextLook look_of(const BriefTable& table, std::size_t column, bool head, double width) const;
    TextLook item_look() const;
    double under_row(const BriefTable& table) const;
    void write_row(const BriefTable& table, const std::vector<std::string>& cells, const std::vector<double>& widths,
                   bool head, double left);

    Paper& paper_;
    std::string foot_, heading_;
    double tight_, left_, right_, top_, bottom_, y_;
    int page_ = 1;
};

}  // namespace rushlight
