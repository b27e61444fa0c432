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
                return flow_.text(b.text, 8.6, false);
            case Block::small:
                return flow_.text(b.text, 7.4, true);
            case Block::caution:
                return flow_.caution(b.text);
            case Block::list:
                return flow_.list(b.items);
            case Block::table:
                return flow_.table(b.table);
            case Block::figures:
                return add_figures(b);
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

    void add_figures(const BriefBlock& b) {
        if (b.figures.front().kind == BriefFigure::Kind::plan) return add_plan(b.figures.front());
        std::vector<PageFlow::Piece> pieces;
        for (const BriefFigure& f : b.figures) pieces.push_back(piece_of(f));
        flow_.row(pieces, b.across);
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

    /// What a section's title must not be torn from: the frames, the table or the lines that come first after it, pt.
    double holds(std::span<const BriefBlock> after) {
        constexpr double a_line = 16;
        double high = 0;
        for (const BriefBlock& b : after) {
            if (b.kind == Block::section) break;
            if (b.kind == Block::table) return high + flow_.together(b.table);
            if (b.kind == Block::faders) {
                const auto frames = frames_of(b.setup);
                const double all = flow_.row_height(frames, across(frames.size()));
                return all > 0.8 * flow_.page_height() ? high : high + all;
            }
            high += a_line;
            if (b.kind == Block::list || high > 4 * a_line) break;
        }
        return high;
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
    Paper paper(Paper::Kind::pdf, size.width * points_per_mm, size.height * points_per_mm, {d.title, date_of(brief)});
    PageFlow flow(paper, size, std::string(planning_caution));
    flow.title(d.whom, d.title, d.subtitle);
    Pages pages(brief, look, flow);
    for (std::size_t i = 0; i < d.blocks.size(); ++i) pages.add(d.blocks[i], std::span(d.blocks).subspan(i + 1));
    flow.end();
    return {paper.bytes(), flow.pages()};
}

}  // namespace rushlight
