#include "pictures/brief/pages.h"

#include "pictures/brief/frames.h"
#include "pictures/maps/map_picture.h"
#include "pictures/plan/plan.h"
#include "setup/advice/check.h"

#include <algorithm>
#include <cstdio>

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

    /// `next`: the block after it, or null.
    void add(const BriefBlock& b, const BriefBlock* next) {
        switch (b.kind) {
            case Block::section:
                return flow_.section(b.text, b.new_page, holds(next));
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

    /// Frames side by side are not torn from their heading, nor from each other.
    double holds(const BriefBlock* next) {
        if (next == nullptr || next->kind != Block::faders) return 0;
        const auto frames = frames_of(next->setup);
        const double high = flow_.row_height(frames, across(frames.size()));
        return high > 0.8 * flow_.page_height() ? 0 : high;
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
    for (std::size_t i = 0; i < d.blocks.size(); ++i)
        pages.add(d.blocks[i], i + 1 < d.blocks.size() ? &d.blocks[i + 1] : nullptr);
    flow.end();
    return {paper.bytes(), flow.pages()};
}

}  // namespace rushlight
