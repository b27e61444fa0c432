#include "pictures/brief/pages.h"

#include "pictures/brief/frames.h"
#include "pictures/maps/map_picture.h"
#include "pictures/plan/plan.h"
#include "setup/advice/check.h"

#include <algorithm>
#include <cstdio>
#include <span>

namespace rushlight {

namespace {

using Block = BriefBlock::Kind;
using brief_parts::is_for;

constexpr double body = 8.6, small_print = 7.4;  // pt

/// The planned day: the same file makes the same bytes.
std::string date_of(const Brief& b) {
    if (b.setups.empty()) return "";
    const Day& d = b.setups.front().setup().day;
    char text[32];
    std::snprintf(text, sizeof text, "%04d-%02d-%02dT00:00:00Z", std::clamp(d.year, 0, 9999), d.month, d.day);
    return text;
}

PageFlow::Piece picture(Image image, const std::string& caption) {
    const double aspect = static_cast<double>(image.width) / image.height;
    return {aspect, caption, 0.42 * 265 * points_per_mm,
            [image = std::move(image)](Paper& p, const PaperBox& box) { p.picture(image, box); }};
}

class Pages {
public:
    Pages(const Brief& brief, const BriefLook& look, PageFlow& flow) : brief_(brief), look_(look), flow_(flow) {}

    /// `after`: the blocks after it.
    void add(const BriefBlock& b, std::span<const BriefBlock> after) {
        switch (b.kind) {
            case Block::section:
                return flow_.section(b.text, b.new_page, holds(after));
            case Block::heading:
                return flow_.heading(b.text);
            case Block::text:
                return flow_.text(b.text, body, false);
            case Block::small:
                return flow_.text(b.text, small_print, true);
            case Block::caution:
                return flow_.caution(b.text);
            case Block::list:
                return flow_.list(b.items);
            case Block::table:
                return flow_.table(b.table);
            case Block::figures:
                return add_figures(b, after);
            case Block::beside:
                return flow_.beside(piece_of(b.figures.front()), b.table);
            case Block::faders:
                return add_frames(b.setup);
        }
    }

private:
    PageFlow::Piece piece_of(const BriefFigure& f) const {
        const BriefSetup& s = brief_.setups[f.setup];
        if (f.kind == BriefFigure::Kind::frame) return picture(picture_of(s.options[f.option].frame), f.caption);
        if (f.kind == BriefFigure::Kind::map) return picture(map_picture(*s.map, MapUnit::stops), f.caption);
        return plan(s.options[f.option].setup, f);
    }

    void add_figures(const BriefBlock& b, std::span<const BriefBlock> after) {
        if (b.figures.front().kind == BriefFigure::Kind::plan) return add_plan(b.figures.front());
        std::vector<PageFlow::Piece> pieces;
        for (const BriefFigure& f : b.figures) pieces.push_back(piece_of(f));
        flow_.row(pieces, b.fills ? across_of_page(pieces, b.across, after) : b.across);
    }

    /// As many in a row as makes them largest, where what follows on the page leaves room for them all.
    std::size_t across_of_page(std::vector<PageFlow::Piece>& pieces, std::size_t across,
                               std::span<const BriefBlock> after) {
        constexpr double caption = 22, slack = 24, larger = 1.15;
        const double room = flow_.left_on_page() - height_until(after, [](const BriefBlock& b) { return b.new_page; });
        const double high = (room - slack) / static_cast<double>(pieces.size()) - caption;
        const double as_it_was = flow_.width() / static_cast<double>(across);
        if (across == 1 || std::min(high * pieces.front().aspect, flow_.width()) < larger * as_it_was) return across;
        for (PageFlow::Piece& p : pieces) p.most_height = std::min(high, flow_.width() / p.aspect);
        return 1;
    }

    /// Of a block by itself, pt, where no page ends in it.
    double height_of(const BriefBlock& b) {
        constexpr double title = 40, line = 22, of_a_page = 0.3;
        switch (b.kind) {
            case Block::section:
                return title;
            case Block::heading:
            case Block::caution:
                return line;
            case Block::text:
                return flow_.height_of(b.text, body);
            case Block::small:
                return flow_.height_of(b.text, small_print);
            case Block::list:
                return flow_.height_of(b.items);
            case Block::table:
                return flow_.height_of(b.table);
            case Block::faders: {
                const auto frames = frames_of(b.setup);
                return frames.empty() ? 0 : flow_.row_height(frames, across(frames.size()));
            }
            case Block::figures:
            case Block::beside:
                break;
        }
        return of_a_page * flow_.page_height();
    }

    template <class Stop>
    double height_until(std::span<const BriefBlock> after, Stop stop) {
        double sum = 0;
        for (const BriefBlock& b : after) {
            if (stop(b)) break;
            sum += height_of(b);
        }
        return sum;
    }

    PlanLook plan_look() const {
        PlanLook look;
        look.units = look_.units;
        look.tables = is_for(look_.whom, {BriefFor::camera, BriefFor::lighting});
        return look;
    }

    void add_plan(const BriefFigure& f) {
        const Setup& setup = brief_.setups[f.setup].options[f.option].setup;
        flow_.fill(piece_of(f), [&](double left) { return plan_height(setup, {flow_.width(), left}, plan_look()); });
    }

    PageFlow::Piece plan(const Setup& setup, const BriefFigure& f) const {
        const PlanLook look = plan_look();
        return {1.4, f.caption, 1e9, [&setup, look](Paper& p, const PaperBox& box) {
                    draw_plan(p, box, setup, look);
                    const Point frame[] = {{box.x0, box.y0}, {box.x1, box.y0}, {box.x1, box.y1}, {box.x0, box.y1}};
                    p.lines(frame, true, {{0.78F, 0.78F, 0.77F}, 0.4, {}});
                }};
    }

    /// The frames of all options of a set-up; none where there is only one, which is on its page already.
    std::vector<PageFlow::Piece> frames_of(std::size_t setup) const {
        std::vector<PageFlow::Piece> pieces;
        const BriefSetup& s = brief_.setups[setup];
        if (s.options.size() < 2) return pieces;
        for (const BriefOption& o : s.options)
            if (o.frame.there()) pieces.push_back(picture(picture_of(o.frame), o.setup.option));
        return pieces;
    }
    static std::size_t across(std::size_t frames) { return frames == 2 || frames == 4 ? 2 : 3; }

    /// What a section's title must not be torn from, pt: the table or the lines that come first after it; of options
    /// all of it, frames, table and notes, where a page holds them.
    double holds(std::span<const BriefBlock> after) {
        const double all = height_until(after, [](const BriefBlock& b) { return b.kind == Block::section; });
        const bool options = !after.empty() && after.front().kind == Block::faders;
        if (options && all < 0.93 * flow_.page_height()) return all;
        constexpr double most = 64;
        double high = 0;
        for (const BriefBlock& b : after) {
            if (b.kind == Block::section) break;
            if (b.kind == Block::table) return high + flow_.together(b.table);
            if (b.kind == Block::faders) return high + std::min(height_of(b), 0.8 * flow_.page_height());
            if (b.kind == Block::list) return high + std::min(height_of(b), most);
            high += height_of(b);
            if (high > most) break;
        }
        return std::min(high, 0.8 * flow_.page_height());
    }

    /// On paper nothing moves: the frames of all options, side by side.
    void add_frames(std::size_t setup) {
        const auto frames = frames_of(setup);
        if (!frames.empty()) flow_.row(frames, across(frames.size()));
    }

    const Brief& brief_;
    const BriefLook& look_;
    PageFlow& flow_;
};

}  // namespace

BriefPages brief_pages(const Brief& brief, const BriefLook& look, const PageSize& size) {
    const BriefDocument d = brief_document(brief, look);
    const auto laid_out = [&](double tight, double& filled) {
        Paper paper(Paper::Kind::pdf, size.width * points_per_mm, size.height * points_per_mm,
                    {d.title, date_of(brief)});
        PageFlow flow(paper, size, std::string(planning_caution), tight);
        flow.title(d.whom, d.title, d.subtitle);
        Pages pages(brief, look, flow);
        for (std::size_t i = 0; i < d.blocks.size(); ++i) pages.add(d.blocks[i], std::span(d.blocks).subspan(i + 1));
        flow.end();
        filled = flow.filled();
        return BriefPages{paper.bytes(), flow.pages()};
    };
    // A few lines alone on the last page: a little tighter, and they find room on the one before.
    constexpr double few = 0.3;
    double filled = 1;
    BriefPages pages = laid_out(1, filled);
    for (const double tight : {0.96, 0.92, 0.88}) {
        if (filled >= few || pages.pages < 2) break;
        const BriefPages tighter = laid_out(tight, filled);
        if (tighter.pages < pages.pages || filled >= few) return tighter;
    }
    return pages;
}

}  // namespace rushlight
