#include "pictures/plan/plan.h"

#include "pictures/plan/parts.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace rushlight {

using namespace plan_parts;

namespace {

// Scales that a ruler knows; the imperial ones are so many inches, or parts of one, to a foot.
constexpr std::array<int, 13> metric_scales{10, 20, 25, 50, 75, 100, 125, 150, 200, 250, 500, 1000, 2500};
constexpr std::array<int, 13> imperial_scales{12, 16, 24, 32, 48, 64, 96, 128, 192, 384, 768, 1200, 2400};

/// `farthest`: metres outside the walls that are drawn; what stands farther off is named in the lists.
Extent extent_of(const Setup& s, double farthest) {
    const Place& p = s.place;
    const double wall_room = p.has_room ? p.room.wall_thickness : 0.1;
    Extent e{static_cast<double>(p.lower.x) - wall_room, static_cast<double>(p.lower.y) - wall_room,
             static_cast<double>(p.upper.x) + wall_room, static_cast<double>(p.upper.y) + wall_room};
    const Extent widest{e.x0 - farthest, e.y0 - farthest, e.x1 + farthest, e.y1 + farthest};
    const auto take = [&](const Vec3& v, double reach) {
        const auto x = static_cast<double>(v.x), y = static_cast<double>(v.y);
        if (x < widest.x0 || x > widest.x1 || y < widest.y0 || y > widest.y1) return;
        e = {std::min(e.x0, x - reach), std::min(e.y0, y - reach), std::max(e.x1, x + reach),
             std::max(e.y1, y + reach)};
    };
    for (const Lamp& l : s.rig.lamps) take(l.at, 0.4);
    for (const Panel& panel : s.rig.panels) take(panel.at, panel.width / 2);
    for (const Mark& m : s.rig.marks) take(m.at, 0.4);
    if (s.its_camera() != nullptr) take(s.its_camera()->at, 0.5);
    return e;
}

/// The area left for the drawing, with room round it for dimensions and for words outside the walls.
PaperSize room_in(const PaperSize& box, const PlanLook& look) {
    const double around = look.words ? 46 : 20;
    return {box.width - around, box.height - key_height(look) - around};
}

int scale_of(const Extent& e, const PaperSize& box, const PlanLook& look) {
    if (look.scale > 0) return look.scale;
    const PaperSize room = room_in(box, look);
    const double needed =
        1000 * points_per_mm *
        std::max((e.x1 - e.x0) / std::max(room.width, 1.0), (e.y1 - e.y0) / std::max(room.height, 1.0));
    const auto& scales = look.units == BriefUnits::metric ? metric_scales : imperial_scales;
    const auto it = std::lower_bound(scales.begin(), scales.end(), needed);
    return it == scales.end() ? static_cast<int>(std::ceil(needed / 1000) * 1000) : *it;
}

/// A sun far outside must not make the room too small to read: less of the outside is drawn until a ruler's everyday
/// scale does.
Extent drawn_extent(const Setup& setup, const PaperSize& box, const PlanLook& look) {
    constexpr int smallest = 125;
    Extent e;
    for (const double farthest : {8.0, 5.0, 3.0, 1.5, 0.5}) {
        e = extent_of(setup, farthest);
        if (scale_of(e, box, look) <= smallest) break;
    }
    return e;
}

}  // namespace

int plan_scale(const Setup& setup, const PaperSize& box, const PlanLook& look) {
    return scale_of(drawn_extent(setup, box, look), box, look);
}

double plan_height(const Setup& setup, const PaperSize& box, const PlanLook& look) {
    const Extent e = drawn_extent(setup, box, look);
    const int scale = scale_of(e, box, look);
    constexpr double names_outside = 60, step = 12;  // pt
    double high = (e.y1 - e.y0) * 1000 * points_per_mm / scale + names_outside + key_height(look);
    // A lower box must not make less of it be drawn, or smaller.
    const auto same = [&] {
        const Extent now = drawn_extent(setup, {box.width, high}, look);
        return now.y0 == e.y0 && now.y1 == e.y1 && scale_of(now, {box.width, high}, look) == scale;
    };
    while (high < box.height && !same()) high += step;
    return std::min(box.height, high);
}

LabelPlaces draw_plan(Paper& paper, const PaperBox& box, const Setup& setup, const PlanLook& look) {
    const PaperSize size{box.width(), box.height()};
    const Extent e = drawn_extent(setup, size, look);
    const int scale = scale_of(e, size, look);
    const double per_metre = 1000 * points_per_mm / scale;
    const PaperBox area{box.x0, box.y0, box.x1, box.y1 - key_height(look)};
    const Point middle{(area.x0 + area.x1) / 2, (area.y0 + area.y1) / 2};
    const ToPaper to{{middle.x - per_metre * (e.x0 + e.x1) / 2, middle.y + per_metre * (e.y0 + e.y1) / 2}, per_metre};
    Drawing d{paper, setup, look, to, e, LabelPlaces(area)};
    paper.keep_to(area);
    draw_place(d);
    draw_rig(d);
    label_rig(d);
    label_place(d);
    paper.let_go();
    draw_key(d, box, scale);
    return d.labels;
}

std::string plan_svg(const Setup& setup, const PaperSize& size, const PlanLook& look) {
    Paper paper(Paper::Kind::svg, size.width, size.height);
    const Point all[] = {{0, 0}, {size.width, 0}, {size.width, size.height}, {0, size.height}};
    paper.fill(all, white);
    draw_plan(paper, {0, 0, size.width, size.height}, setup, look);
    return paper.bytes();
}

std::string from_walls(const Setup& setup, const Vec3& at, BriefUnits units) {
    if (!setup.place.has_room) return "";
    const Room& r = setup.place.room;
    const auto x = static_cast<double>(at.x), y = static_cast<double>(at.y);
    const auto nearer = [&](double first, double second, const char* one, const char* other) {
        const bool is_first = std::abs(first) <= std::abs(second);
        const double off = is_first ? first : second;
        return std::string(off < 0 ? "outside " : "") + (is_first ? one : other) + " " +
               length_text(std::abs(off), units);
    };
    return nearer(x, r.width - x, "left", "right") + ", " + nearer(y, r.depth - y, "near", "far");
}

std::string plan_in_words(const Setup& setup, const PlanLook& look) {
    std::string text = "Plan to scale of set-up " + setup.name + ". ";
    const auto tell = [&](const std::vector<std::string>& lines) {
        for (std::size_t i = 0; i < lines.size(); ++i) text += (i == 0 ? "" : i == 1 ? ": " : ", ") + lines[i];
        text += ". ";
    };
    for (const Mark& m : setup.rig.marks) tell(lines_of(m, look));
    if (setup.its_camera() != nullptr) tell(lines_of(*setup.its_camera(), look));
    for (const Lamp& l : setup.rig.lamps) tell(lines_of(setup, l, look));
    for (const Panel& p : setup.rig.panels) tell(lines_of(setup, p, look));
    return text;
}

}  // namespace rushlight
