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
    return {aspect, caption, 0.33 * 265 * points_per_mm,
            [image = std::move(image)](Paper& p, const PaperBox& box) { p.picture(image, box); }};
}

class Pages {
public:
    Pages(const Brief& brief, const BriefLook& look, PageFlow& flow) : brief_(brief), look_(look), flow_(flow) {}

    void add(const BriefBlock& b) {
        switch (b.kind) {
            case Block::section:
                return flow_.section(b.text, b.new_page);
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
            case Block::faders:
                return add_frames(b.setup);
        }
    }

private:
    void add_figures(const BriefBlock& b) {
        std::vector<PageFlow::Piece> pieces;
        for (const BriefFigure& f : b.figures) {
            const BriefSetup& s = brief_.setups[f.setup];
            if (f.kind == BriefFigure::Kind::frame)
                pieces.push_back(picture(picture_of(s.options[f.option].frame), f.caption));
            else if (f.kind == BriefFigure::Kind::map)
                pieces.push_back(picture(map_picture(*s.map, MapUnit::stops), f.caption));
            else
                pieces.push_back(plan(s.options[f.option].setup, f));
        }
        flow_.row(pieces, b.across);
    }

    PageFlow::Piece plan(const Setup& setup, const BriefFigure& f) const {
        PlanLook look;
        look.units = look_.units;
        look.words = !f.small;
        return {f.small ? 1.4 : plan_aspect(setup, look), f.caption, 1e9,
                [&setup, look](Paper& p, const PaperBox& box) {
                    draw_plan(p, box, setup, look);
                    const Point frame[] = {{box.x0, box.y0}, {box.x1, box.y0}, {box.x1, box.y1}, {box.x0, box.y1}};
                    p.lines(frame, true, {{0.78F, 0.78F, 0.77F}, 0.4, {}});
                }};
    }

    /// Higher for a place that is deep: as high as a page lets it where that makes the scale larger.
    double plan_aspect(const Setup& setup, const PlanLook& look) const {
        const double wide = flow_.width();
        double best = 1.5;
        int scale = plan_scale(setup, {wide, wide / best}, look);
        for (const double aspect : {1.25, 1.0, 0.85}) {
            if (wide / aspect > 0.95 * flow_.page_height()) break;
            const int larger = plan_scale(setup, {wide, wide / aspect}, look);
            if (larger < scale) scale = larger, best = aspect;
        }
        return best;
    }

    /// On paper nothing moves: the frames of all options, side by side.
    void add_frames(std::size_t setup) {
        const BriefSetup& s = brief_.setups[setup];
        if (s.options.size() < 2) return flow_.text("The page for a browser has faders for every source.", 7.4, true);
        std::vector<PageFlow::Piece> pieces;
        for (const BriefOption& o : s.options)
            if (o.frame.there()) pieces.push_back(picture(picture_of(o.frame), o.setup.option));
        flow_.row(pieces, pieces.size() == 2 || pieces.size() == 4 ? 2 : 3);
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
    for (const BriefBlock& b : d.blocks) pages.add(b);
    flow.end();
    return {paper.bytes(), flow.pages()};
}

}  // namespace rushlight
