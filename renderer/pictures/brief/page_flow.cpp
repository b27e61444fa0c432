#include "pictures/brief/page_flow.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace rushlight {

namespace {

const Colour ink{0.08F, 0.08F, 0.09F}, faint{0.38F, 0.38F, 0.39F}, line{0.78F, 0.78F, 0.77F}, pale{0.95F, 0.95F, 0.94F};
constexpr double letters = 8.2, dense_letters = 7.2, least_letters = 6.8, between_columns = 9;

std::vector<std::string> heads_of(const BriefTable& t) {
    std::vector<std::string> heads;
    for (const auto& c : t.columns) heads.push_back(c.head);
    return heads;
}

}  // namespace

PageFlow::PageFlow(Paper& paper, const PageSize& size, std::string foot, double tight)
    : paper_(paper),
      foot_(std::move(foot)),
      tight_(tight),
      left_(15 * points_per_mm),
      right_((size.width - 13) * points_per_mm),
      top_(13 * points_per_mm),
      bottom_((size.height - 17) * points_per_mm),
      y_(top_) {}

/// Around the words of a row, pt.
double PageFlow::under_row(const BriefTable& t) const {
    return (t.dense ? 1.2 : 2.2) * tight_ * tight_;
}

TextLook PageFlow::look_of(const BriefTable& t, std::size_t column, bool head, double width) const {
    const BriefTable::Column& c = t.columns[column];
    const double size = std::max(least_letters, (t.dense ? dense_letters : letters) * tight_);
    return {c.fixed && !head ? size - 1.4 : size,
            head,
            c.right ? Align::right : Align::left,
            ink,
            width,
            false,
            c.fixed && !head};
}

TextLook PageFlow::item_look() const {
    return {letters * tight_, false, Align::left, ink, width() - 12, false, false};
}

double PageFlow::height_of(const std::string& words, double size) {
    return paper_.size_of(words, {size * tight_, false, Align::left, ink, width(), false, false}).height + 3;
}

double PageFlow::height_of(const std::vector<std::string>& items) {
    double sum = 2;
    for (const std::string& item : items) sum += paper_.size_of(item, item_look()).height + 1.6;
    return sum;
}

double PageFlow::height_of(const BriefTable& t) {
    return t.columns.empty() || t.rows.empty() ? 0 : height_of(t, widths_of(t, width())) + 5;
}

void PageFlow::write_foot() {
    const double y = bottom_ + 4 * points_per_mm;
    paper_.line({left_, y - 2}, {right_, y - 2}, {line, 0.4, {}});
    const std::string number = std::to_string(page_);
    const PaperSize n = paper_.size_of(number, {7, false, Align::right, faint, 0, false, false});
    paper_.text({left_, y}, foot_, {7, false, Align::left, faint, right_ - left_ - n.width - 12, false, false});
    paper_.text({right_, y}, number, {7, false, Align::right, faint, 0, false, false});
}

void PageFlow::next_page() {
    write_foot();
    paper_.next_page();
    ++page_;
    y_ = top_;
}

void PageFlow::need(double height) {
    const TextLook look{9.2, true, Align::left, ink, width(), false, false};
    const std::string words = std::exchange(heading_, "");
    const double head = words.empty() ? 0 : paper_.size_of(words, look).height + 9;
    if (y_ + head + height > bottom_ && y_ > top_ + 1) next_page();
    if (words.empty()) return;
    y_ += y_ > top_ + 1 ? 7 : 0;
    y_ = paper_.text({left_, y_}, words, look).y1 + 2;
}

void PageFlow::end() {
    need(0);
    write_foot();
}

void PageFlow::title(const std::string& whom, const std::string& words, const std::string& below) {
    y_ = paper_.text({left_, y_}, whom, {9, true, Align::left, faint, width(), false, false}).y1 + 1;
    y_ = paper_.text({left_, y_}, words, {15, true, Align::left, ink, width(), false, false}).y1 + 2;
    y_ = paper_.text({left_, y_}, below, {9, false, Align::left, faint, width(), false, false}).y1 + 8;
}

void PageFlow::section(const std::string& words, bool new_page, double holds) {
    need(0);
    constexpr double least_left = 0.14;  // of a page
    if (y_ > top_ + 1 && (new_page || left_on_page() < std::max(least_left * page_height(), holds + 40))) next_page();
    y_ += y_ > top_ + 1 ? 14 * tight_ * tight_ : 0;
    y_ = paper_.text({left_, y_}, words, {12.5, true, Align::left, ink, width(), false, false}).y1 + 1;
    paper_.line({left_, y_}, {right_, y_}, {ink, 1.1, {}});
    y_ += 6;
}

void PageFlow::heading(const std::string& words) {
    need(0);
    heading_ = words;
}

void PageFlow::text(const std::string& words, double size, bool is_faint) {
    const TextLook look{size * tight_, false, Align::left, is_faint ? faint : ink, width(), false, false};
    need(paper_.size_of(words, look).height);
    y_ = paper_.text({left_, y_}, words, look).y1 + 3;
}

void PageFlow::caution(const std::string& words) {
    const TextLook look{letters, true, Align::left, ink, width() - 16, false, false};
    const double high = paper_.size_of(words, look).height + 8;
    need(high);
    const Point box[] = {{left_, y_}, {right_, y_}, {right_, y_ + high}, {left_, y_ + high}};
    paper_.fill(box, pale);
    const Point bar[] = {{left_, y_}, {left_ + 4, y_}, {left_ + 4, y_ + high}, {left_, y_ + high}};
    paper_.fill(bar, ink);
    paper_.text({left_ + 11, y_ + 4}, words, look);
    y_ += high + 6;
}

void PageFlow::list(const std::vector<std::string>& items) {
    const TextLook look = item_look();
    const auto height_at = [&](std::size_t i) { return i < items.size() ? paper_.size_of(items[i], look).height : 0; };
    for (std::size_t i = 0; i < items.size(); ++i) {
        const bool keeps_the_next = i == 0 || i + 2 == items.size();
        need(height_at(i) + (keeps_the_next ? height_at(i + 1) + 1.6 : 0));
        paper_.circle({left_ + 4, y_ + look.size * 0.66}, 1.1, nullptr, &ink);
        y_ = paper_.text({left_ + 11, y_}, items[i], look).y1 + 1.6;
    }
    y_ += 2;
}

std::vector<double> PageFlow::widths_of(const BriefTable& t, double whole) {
    const std::size_t n = t.columns.size();
    std::vector<double> widths(n, 0), least(n, 18);
    for (std::size_t c = 0; c < n; ++c) {
        const auto take = [&](const std::string& words, bool head) {
            widths[c] = std::max(widths[c], paper_.size_of(words, look_of(t, c, head, 0)).width + 0.5);
        };
        take(t.columns[c].head, true);
        for (const auto& row : t.rows) take(row[c], false);
        // Something to write on.
        if (std::all_of(t.rows.begin(), t.rows.end(), [&](const auto& row) { return row[c].empty(); }) &&
            !t.columns[c].head.empty())
            widths[c] = least[c] = 46;
        // Numbers are not broken, nor are words for a file.
        if (t.columns[c].right || t.columns[c].fixed) least[c] = std::min(widths[c], 0.4 * whole);
    }
    const double room = whole - between_columns * static_cast<double>(n - 1);
    // The widest give way first, down to one width; then all alike.
    double lowest = 0, highest = room;
    for (int i = 0; i < 40; ++i) {
        const double cap = (lowest + highest) / 2;
        double sum = 0;
        for (std::size_t c = 0; c < n; ++c) sum += std::max(std::min(widths[c], cap), std::min(widths[c], least[c]));
        (sum <= room ? lowest : highest) = cap;
    }
    double sum = 0;
    for (std::size_t c = 0; c < n; ++c) {
        widths[c] = std::max(std::min(widths[c], lowest), std::min(widths[c], least[c]));
        sum += widths[c];
    }
    if (sum > room)
        for (double& w : widths) w *= room / sum;
    return widths;
}

double PageFlow::row_height(const BriefTable& t, const std::vector<std::string>& cells,
                            const std::vector<double>& widths) {
    double high = 0;
    for (std::size_t c = 0; c < cells.size(); ++c)
        high = std::max(high, paper_.size_of(cells[c], look_of(t, c, false, widths[c])).height);
    return high + 2 * under_row(t);
}

void PageFlow::write_row(const BriefTable& t, const std::vector<std::string>& cells, const std::vector<double>& widths,
                         bool head, double left) {
    double x = left, high = 0;
    for (std::size_t c = 0; c < cells.size(); ++c) {
        const Point at{t.columns[c].right ? x + widths[c] : x, y_ + under_row(t)};
        high = std::max(high, paper_.text(at, cells[c], look_of(t, c, head, widths[c])).height());
        x += widths[c] + between_columns;
    }
    y_ += high + 2 * under_row(t);
    paper_.line({left, y_}, {x - between_columns, y_}, {head ? ink : line, head ? 0.7 : 0.4, {}});
}

double PageFlow::height_of(const BriefTable& t, const std::vector<double>& widths) {
    double sum = row_height(t, heads_of(t), widths);
    for (const auto& row : t.rows) sum += row_height(t, row, widths);
    return sum;
}

double PageFlow::together(const BriefTable& t) {
    constexpr double most = 0.75;  // of a page
    if (t.columns.empty() || t.rows.empty()) return 0;
    const std::vector<double> widths = widths_of(t, width());
    const double all = height_of(t, widths);
    return all <= most * page_height() ? all
                                       : row_height(t, heads_of(t), widths) + row_height(t, t.rows.front(), widths);
}

void PageFlow::table(const BriefTable& t) {
    if (t.columns.empty() || t.rows.empty()) return;
    std::vector<double> widths = widths_of(t, width());
    // Right edges line up with the text's: the last column takes what is left.
    double sum = between_columns * static_cast<double>(widths.size() - 1);
    for (const double w : widths) sum += w;
    if (const double left_over = width() - sum; left_over > 0) {
        if (!t.columns.back().right)
            widths.back() += left_over;
        else
            for (double& w : widths) w += left_over / static_cast<double>(widths.size());
    }
    const double head = row_height(t, heads_of(t), widths);
    need(together(t));
    bool first = true;
    for (const auto& row : t.rows) {
        const double high = row_height(t, row, widths);
        const bool turns = y_ + high + (first ? head : 0) > bottom_ + 1e-6 && y_ > top_ + 1;
        if (turns) next_page();
        if (turns || first) write_row(t, heads_of(t), widths, true, left_);
        first = false;
        write_row(t, row, widths, false, left_);
    }
    y_ += 5;
}

void PageFlow::beside(const Piece& piece, const BriefTable& t) {
    constexpr double gap = 12, of_the_width = 0.56;
    const double wide = t.rows.empty() ? width() : of_the_width * width();
    const double high = wide / piece.aspect, room = width() - wide - gap;
    std::vector<double> widths;
    if (!t.rows.empty()) {
        widths = widths_of(t, room);
        double sum = between_columns * static_cast<double>(widths.size() - 1);
        for (const double w : widths) sum += w;
        widths.front() += std::max(0.0, room - sum);
    }
    const double beside = t.rows.empty() ? 0 : height_of(t, widths);
    need(std::max(high, beside));
    const double top = y_;
    piece.draw(paper_, {left_, top, left_ + wide, top + high});
    if (!t.rows.empty()) {
        write_row(t, heads_of(t), widths, true, left_ + wide + gap);
        for (const auto& row : t.rows) write_row(t, row, widths, false, left_ + wide + gap);
    }
    y_ = top + std::max(high, beside) + 6;
}

void PageFlow::fill(const Piece& piece, const std::function<double(double)>& height_in) {
    constexpr double least = 0.33;  // of a page's height
    need(std::min(least * page_height(), height_in(page_height())));
    const double high = height_in(left_on_page() - 1);
    piece.draw(paper_, {left_, y_, right_, y_ + high});
    y_ += high + 1;
}

double PageFlow::row_height(const std::vector<Piece>& pieces, std::size_t across) {
    constexpr double gap = 10, caption = 16;
    const double column = (width() - gap * static_cast<double>(across - 1)) / static_cast<double>(across);
    double sum = 0;
    for (std::size_t from = 0; from < pieces.size(); from += across) sum += column / pieces[from].aspect + caption + 6;
    return sum;
}

void PageFlow::row(const std::vector<Piece>& pieces, std::size_t across) {
    constexpr double gap = 10;
    const double column = (width() - gap * static_cast<double>(across - 1)) / static_cast<double>(across);
    for (std::size_t from = 0; from < pieces.size(); from += across) {
        const std::size_t to = std::min(pieces.size(), from + across);
        double high = 0;
        // One that stands alone leaves room for another below it.
        const double wide = std::min(column, across == 1 ? pieces[from].most_height * pieces[from].aspect : column);
        for (std::size_t i = from; i < to; ++i) {
            const TextLook look{letters - 0.6, false, Align::left, faint, wide, false, false};
            const double words = pieces[i].caption.empty() ? 0 : paper_.size_of(pieces[i].caption, look).height + 2;
            high = std::max(high, wide / pieces[i].aspect + words);
        }
        need(high);
        for (std::size_t i = from; i < to; ++i) {
            const double x = left_ + static_cast<double>(i - from) * (column + gap);
            const PaperBox box{x, y_, x + wide, y_ + wide / pieces[i].aspect};
            pieces[i].draw(paper_, box);
            if (!pieces[i].caption.empty())
                paper_.text({x, box.y1 + 2}, pieces[i].caption,
                            {letters - 0.6, false, Align::left, faint, wide, false, false});
        }
        y_ += high + 6;
    }
}

}  // namespace rushlight
